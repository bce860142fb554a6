"""Charts drawn with matplotlib's SVG renderer, from what `pages.charts` made and nothing else.

- `drawings`: the drawing that belongs to a chart's data
- `draw_shirts`: outlines of garments, and the tape on them
- `draw_panels`: panels with columns: deviations, grade steps, washing
- `draw_ladder`, `draw_client_shirt`: a rung for each size; the shirt that clients see
- `draw_lots`, `draw_outlook`: lot after lot; the next lot and the next delivery
- `draw_over_time`, `time_plot`, `time_axis`: panels on one axis of days
- `shirt_outline`: the polygon of a T-shirt
- `canvas`: the few marks that charts need; `axis_labels`: their words and ticks
- `chart_style`: colours and settings; `svg_bytes`: the finished file
"""
