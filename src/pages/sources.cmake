# Style sheets and the fixed words and Python of the notebook, embedded at build. A header for each room that prints one.
include(HoldfastPages)
holdfast_pages(page_style page.css)
holdfast_pages(chart_style chart.css)
holdfast_pages(sheet_style sheet.css sheet_paper.css)
holdfast_pages(notebook about.md tools.md tools.py pulls.md pulls.py laws.md laws.py bounds.md factors.py bounds.py
  comparing.md comparing.py outside.md outside.py)
holdfast_pages(example ../../datasets/shade-sail.json)
holdfast_pages(site site_worker.js site_manifest.json site_icon.svg)
