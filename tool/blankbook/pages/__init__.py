"""What a person looks at: every page, every chart, and the data that stands beside them.

- `page_spec`: what a page and a chart are, before they are rendered or drawn
- `all_pages`: the functions that the build calls, one for each page
- `blank/`: the page of one blank and its tables, the newest rounds and the earlier ones
- `over_time/`: a blank's lots, charts and decisions over time
- `shop/`: catalogue, suppliers, method, measuring guide, changes, comparison
- `clients/`: the size charts that clients get
- `table/`: the pages to measure with, on paper and on a phone
- `orders/`: the pages of bulk orders; `cell_heads`: heads of columns on every cell
- `handbook/`: the pages of the handbook
- `charts/`: what each chart shows; `draw/`: how it is drawn
- `page_types`: what the templates of several pages show alike
- `value_words`: lengths, shares and answers as a page writes them
- `record_sources`: the record behind a page, and its commit
- `site_paths`: where every page and file goes
- `render`: a page through its template to HTML
"""
