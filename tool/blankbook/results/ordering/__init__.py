"""The bulk order in money: what to buy, what it costs, what is at risk, what a look is worth.

- `order_plan`: one order worked out
- `terms_of_order`, `shirt_costs`, `order_days`: price and terms, costs and earnings, days
- `size_mix`, `spoilage`, `stock_level`: the split over sizes, what to buy on top or to stock
- `earlier_orders`: what the shop's earlier orders teach of these
- `least_cost`: the cheapest purchase, with packs, price breaks and freight
- `coming_lot`, `lot_outcomes`, `order_risk`: what the next lot may be, and what that puts at risk
- `further_look`, `weighed_looks`: what samples, a wash or an inspection are worth
- `order_results`: what an order that is through earned and cost
- `order_words`, `json_order`: all of it in words and as data
"""
