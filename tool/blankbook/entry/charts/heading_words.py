"""The words over size charts, and the one English word that each stands for.

English, German, Spanish, French and Italian, as suppliers write them (common practice, no source;
from memory). Words are small letters without accents; a compound stands for several words, and an
empty meaning says nothing of a point.
"""

import re
import unicodedata

_ENGLISH = {
    "centre": "center", "cb": "center back", "centerback": "center back",
    "centreback": "center back", "cbn": "center back neck", "hsp": "hps", "slv": "sleeve",
    "sleeves": "sleeve", "shldr": "shoulder", "shoulders": "shoulder", "len": "length",
    "lgth": "length", "1/2": "half", "p2p": "pit", "ptp": "pit", "pits": "pit", "armpit": "pit",
    "armpits": "pit", "underarm": "pit", "bust": "chest", "circ": "around",
    "circumference": "around", "girth": "around", "full": "around", "total": "around",
    "round": "around", "cuffs": "cuff", "hemline": "hem", "neckline": "neck", "ribbing": "rib",
    "armscye": "armhole", "armholes": "armhole", "biceps": "bicep", "fits": "fit", "under": "below",
    "widths": "width", "sizes": "size", "sz": "size", "ages": "age", "laid": "flat",
    "lying": "flat", "lay": "flat", "sweep": "hem", "bottom": "hem", "spine": "center back",
    "depth": "drop", "color": "colour", "highest": "high", "tolerances": "tolerance",
    "tol": "tolerance", "tols": "tolerance",
}  # fmt: skip
_GERMAN = {
    "brust": "chest", "brustbreite": "chest width", "brustweite": "chest",
    "brustumfang": "chest around", "oberweite": "chest around", "umfang": "around",
    "breite": "width", "weite": "width", "korperbreite": "body width", "lange": "length",
    "laenge": "length", "gesamtlange": "length", "korperlange": "body length",
    "ruckenlange": "back length", "vorderlange": "front length", "armel": "sleeve",
    "aermel": "sleeve", "armellange": "sleeve length", "aermellaenge": "sleeve length",
    "armeloffnung": "sleeve opening", "armelsaum": "sleeve hem", "offnung": "opening",
    "schulter": "shoulder", "schultern": "shoulder", "schulterbreite": "shoulder width",
    "schulterpunkt": "shoulder point", "saum": "hem", "saumweite": "hem width",
    "saumbreite": "hem width", "hals": "neck", "halsweite": "neck width",
    "halsbreite": "neck width", "halsausschnitt": "neck", "ausschnitt": "neck",
    "kragen": "collar", "kragenhohe": "collar height", "bundchen": "rib",
    "bundchenhohe": "rib height", "hohe": "height", "achsel": "pit", "achseln": "pit",
    "armloch": "armhole", "armausschnitt": "armhole", "unter": "below", "unterhalb": "below",
    "halb": "half", "halbe": "half", "halber": "half", "flach": "flat", "liegend": "flat",
    "grosse": "size", "groesse": "size", "grossen": "size", "alter": "age", "hintere": "back",
    "hinterer": "back", "hinten": "back", "rucken": "back", "mitte": "center", "vorne": "front",
    "vorder": "front", "vordere": "front", "vorderer": "front", "hochster": "high",
    "hochstem": "high", "gewicht": "weight", "flachengewicht": "weight", "preis": "price",
    "farbe": "colour", "beschreibung": "description", "bezeichnung": "description",
    "messpunkt": "pom", "toleranz": "tolerance", "toleranzen": "tolerance", "taillenweite": "waist",
    "ab": "from", "von": "from", "bis": "to", "zu": "to", "zur": "to",
}  # fmt: skip
_SPANISH = {
    "pecho": "chest", "busto": "chest", "contorno": "around", "perimetro": "around",
    "circunferencia": "around", "ancho": "width", "anchura": "width", "largo": "length",
    "longitud": "length", "largura": "length", "manga": "sleeve", "mangas": "sleeve",
    "boca": "opening", "bocamanga": "sleeve opening", "puno": "cuff", "hombro": "shoulder",
    "hombros": "shoulder", "dobladillo": "hem", "cuello": "neck", "escote": "neck",
    "canale": "rib", "axila": "pit", "axilas": "pit", "sisa": "armhole", "debajo": "below",
    "medio": "half", "media": "half", "mitad": "half", "plano": "flat", "plana": "flat",
    "talla": "size", "tallas": "size", "edad": "age", "espalda": "back", "trasero": "back",
    "centro": "center", "delantero": "front", "frente": "front", "peso": "weight",
    "gramaje": "weight", "precio": "price", "descripcion": "description",
    "tolerancia": "tolerance", "tolerancias": "tolerance", "cintura": "waist", "cadera": "hip",
    "desde": "from", "hasta": "to", "altura": "height",
}  # fmt: skip
_FRENCH = {
    "poitrine": "chest", "tour": "around", "circonference": "around", "largeur": "width",
    "longueur": "length", "manche": "sleeve", "manches": "sleeve", "ouverture": "opening",
    "poignet": "cuff", "epaule": "shoulder", "epaules": "shoulder", "carrure": "shoulder width",
    "bas": "hem", "ourlet": "hem", "encolure": "neck", "col": "collar", "cote": "rib",
    "aisselle": "pit", "aisselles": "pit", "emmanchure": "armhole", "sous": "below",
    "demi": "half", "plat": "flat", "taille": "size", "tailles": "size", "dos": "back",
    "milieu": "center", "devant": "front", "haut": "high", "poids": "weight",
    "grammage": "weight", "prix": "price", "couleur": "colour", "hanches": "hip",
    "depuis": "from", "jusqu": "to", "hauteur": "height",
}  # fmt: skip
_ITALIAN = {
    "torace": "chest", "petto": "chest", "circonferenza": "around", "giro": "around",
    "larghezza": "width", "lunghezza": "length", "manica": "sleeve", "maniche": "sleeve",
    "apertura": "opening", "polsino": "cuff", "spalla": "shoulder", "spalle": "shoulder",
    "fondo": "hem", "orlo": "hem", "scollo": "neck", "collo": "neck", "costina": "rib",
    "costa": "rib", "ascella": "pit", "ascelle": "pit", "giromanica": "armhole", "sotto": "below",
    "mezzo": "half", "mezza": "half", "piano": "flat", "taglia": "size", "taglie": "size",
    "eta": "age", "schiena": "back", "dietro": "back", "retro": "back", "davanti": "front",
    "grammatura": "weight", "prezzo": "price", "colore": "colour", "descrizione": "description",
    "tolleranza": "tolerance", "tolleranze": "tolerance", "vita": "waist", "fianchi": "hip",
    "dal": "from", "dalla": "from", "altezza": "height", "alto": "high", "punto": "point",
}  # fmt: skip
_SAYS_NOTHING = dict.fromkeys(
    (
        *("the", "of", "at", "der", "die", "das", "dem", "den", "am", "im", "el", "la", "las"),
        *("los", "del", "de", "al", "le", "les", "du", "des", "en", "il", "lo", "della", "di"),
        *("da", "ad", "alla", "l", "plus", "mas", "piu", "totale", "bord", "mass", "masse"),
        *("medida", "medidas", "mesure", "mesures", "misura", "misure"),
    ),
    "",
)
MEANINGS = {**_SAYS_NOTHING, **_GERMAN, **_SPANISH, **_FRENCH, **_ITALIAN, **_ENGLISH}
"""By word: the English words that it stands for."""

UNIT_WORDS = {
    "in": "in", "in.": "in", "ins": "in", "inch": "in", "inches": "in", '"': "in", "″": "in",
    "”": "in", "''": "in", "zoll": "in", "pouce": "in", "pouces": "in", "pulgada": "in",
    "pulgadas": "in", "pollice": "in", "pollici": "in", "cm": "cm", "cm.": "cm", "cms": "cm",
    "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "zentimeter": "cm", "centimetro": "cm", "centimetros": "cm", "centimetri": "cm", "mm": "mm",
    "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "milimetros": "mm", "millimetri": "mm",
}  # fmt: skip
"""By word or sign: the unit."""


def plain_text(text: str) -> str:
    """Return a text in small letters without accents, with its fractions spelled out.

    >>> plain_text("½ Größe"), plain_text("Tolérance")
    ('1/2 grosse', 'tolerance')
    """
    spelled = text.casefold().replace("½", "1/2").replace("⁄", "/")
    apart = unicodedata.normalize("NFD", spelled)
    return "".join(sign for sign in apart if not unicodedata.combining(sign)).strip()


def heading_words(text: str) -> set[str]:
    """Return the words of a plain heading, each as the English words that it stands for."""
    found = re.findall(r"1/2|[a-z0-9]+", text)
    words = {word for written in found for word in MEANINGS.get(written, written).split()}
    if "bajo" in words:  # in Spanish, what is below something, and the hem
        words = words - {"bajo"} | ({"below"} if words & {"armhole", "pit"} else {"hem"})
    return words
