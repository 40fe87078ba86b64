holdfast_room(report RANK 6 USES base load campaign strength study SOURCES
  format.c assess_text.c assess_markdown.c assess_json.c caution_words.c)
