"""What each chart shows, as frozen values made from results; nothing is drawn here.

- `all_charts`: the charts of a blank's page and of the measuring guide
- `sizes_chart`: the measured sizes laid over each other, to scale
- `ladder_chart`: every size and piece at one point, new and washed
- `steps_chart`: the grade steps
- `washing_chart`: the change of every piece after washing
- `washed_shirt_chart`, `client_shirt_chart`: a washed shirt over the new one; all sizes for clients
- `lots_chart`, `next_lot_chart`: lot after lot, and where the next one may lie
- `operating_chart`: how often a delivery is accepted, and how often a style is approved
- `over_time_charts`, `over_time_words`, `drawn_history`: a blank over time, in marks and words
- `guide_chart`: where the tape goes
- `chart_types`, `panel_types`, `over_time_types`, `ladder_types`: the values themselves
- `chart_data`: what several of these modules make alike
"""
