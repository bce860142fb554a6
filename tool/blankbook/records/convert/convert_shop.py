"""From a typed tree to the rules of the shop."""

from collections.abc import Mapping

from blankbook.records.convert.convert_shared import to_money, to_tape
from blankbook.records.convert.tree_values import Faults, to_length, to_lengths
from blankbook.records.model import Inspection, OrderRules, Prior, Shop, Source, shop_defaults
from blankbook.text.findings import ValuePath
from blankbook.text.yaml_tree import Tree
from blankbook.words.grade_scales import GRADES


def to_shop(tree: Tree, path: str, faults: Faults) -> Shop:
    """Return the shop's rules; what shop.yaml leaves out comes from `shop_defaults`."""
    unit = tree["units"]

    def by_point(key: str, usual: Mapping[str, float]) -> dict[str, float]:
        written = to_lengths(tree.get(key, {}), unit, (key,), faults)
        return {**usual, **{point: value.mm for point, value in written.items()}}

    return Shop(
        source=Source(path),
        name=tree["shop"],
        unit=unit,
        currency=tree["currency"],
        tape=to_tape(tree["tape"], faults),
        repeatability=_to_length_prior(
            tree.get("repeatability"), unit, ("repeatability",), shop_defaults.REPEATABILITY, faults
        ),
        tolerance=by_point("tolerance", shop_defaults.TOLERANCE),
        step=by_point("step", shop_defaults.STEP),
        step_tolerance=by_point("step_tolerance", shop_defaults.STEP_TOLERANCE),
        spread={
            **shop_defaults.SPREAD,
            **{
                point: _to_length_prior(
                    prior, unit, ("spread", point), shop_defaults.SPREAD[point], faults
                )
                for point, prior in tree.get("spread", {}).items()
            },
        },
        lot_spread=tree.get("lot_spread", shop_defaults.LOT_SPREAD),
        wash_limit={**shop_defaults.WASH_LIMIT, **tree.get("wash_limit", {})},
        wash_spread=_to_prior(tree.get("wash_spread"), shop_defaults.WASH_SPREAD),
        mass_tolerance=tree.get("mass_tolerance", shop_defaults.MASS_TOLERANCE),
        mass_spread=_to_prior(tree.get("mass_spread"), shop_defaults.MASS_SPREAD),
        mix_up_limit=tree.get("mix_up_limit", shop_defaults.MIX_UP_LIMIT),
        least_grade={
            **shop_defaults.LEAST_GRADE,
            **{check: GRADES[grade] for check, grade in tree.get("least_grade", {}).items()},
        },
        grade_spread=_to_prior(tree.get("grade_spread"), shop_defaults.GRADE_SPREAD),
        skew_limit=tree.get("skew_limit", shop_defaults.SKEW_LIMIT),
        skew_spread=_to_prior(tree.get("skew_spread"), shop_defaults.SKEW_SPREAD),
        risk=tree.get("risk", shop_defaults.RISK),
        deciding_points=tuple(tree.get("deciding_points", shop_defaults.DECIDING_POINTS)),
        deciding_methods=tuple(tree.get("deciding_methods", ())),
        required=tuple(tree.get("required", shop_defaults.REQUIRED)),
        inspection=_to_inspection(tree.get("inspection", {})),
        note=tree.get("note", ""),
        site=tree.get("site", ""),
        ease=_to_ease(tree, unit, faults),
        orders=_to_order_rules(tree.get("orders", {})),
    )


def _to_ease(tree: Tree, unit: str, faults: Faults) -> float:
    return (
        to_length(tree["ease"], unit, ("ease",), faults).mm
        if "ease" in tree
        else shop_defaults.EASE
    )


def _to_inspection(tree: Tree) -> Inspection:
    usual = shop_defaults.INSPECTION
    return Inspection(
        tree.get("level", usual.level),
        tree.get("aql", usual.aql),
        tree.get("reduced", usual.reduced),
    )


def _to_order_rules(tree: Tree) -> OrderRules:
    usual = OrderRules()
    spoilage = tree.get("spoilage")
    return OrderRules(
        printing=to_money(tree.get("print")),
        refund=to_money(tree.get("refund")),
        left_over=to_money(tree.get("left_over")),
        measuring=to_money(tree.get("measuring")),
        washing=to_money(tree.get("washing")),
        sending_back=to_money(tree.get("sending_back")),
        enough=tree.get("enough", usual.enough),
        spoiled_share=spoilage["percent"] / 100 if spoilage else usual.spoiled_share,
        spoiled_worth=spoilage["worth"] if spoilage else usual.spoiled_worth,
        comes_back=tree["comes_back"] / 100 if "comes_back" in tree else usual.comes_back,
    )


def _to_length_prior(
    tree: Tree | None, unit: str, at: ValuePath, usual: Prior, faults: Faults
) -> Prior:
    if tree is None:
        return usual
    deviation = to_length(tree["deviation"], unit, (*at, "deviation"), faults)
    return Prior(deviation.mm, tree["worth"])


def _to_prior(tree: Tree | None, usual: Prior) -> Prior:
    return usual if tree is None else Prior(tree["deviation"], tree["worth"])
