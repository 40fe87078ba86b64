holdfast_room(document RANK 1 USES base SOURCES
  document.c
  format.c
  render_text.c
  html.c
  html_table.c
  render_html.c
  markdown.c
  render_markdown.c)
