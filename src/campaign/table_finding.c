/* What is wrong with a table, at its line and column. */
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include "campaign/table.h"

void hf_table_error(hf_table *table, size_t line, size_t column, const char *name, const char *format, ...) {
    char message[HF_MESSAGE_SIZE];
    va_list arguments;
    hf_findings *list = table->reader.findings;
    size_t before = list->count;
    va_start(arguments, format);
    (void)vsnprintf(message, sizeof message, format, arguments);
    va_end(arguments);
    hf_finding finding = {.severity = HF_SEVERITY_ERROR, .code = "table", .line = line, .column = column};
    finding.message = hf_arena_text(table->reader.arena, message, strlen(message));
    hf_reader_find(&table->reader, finding, NULL);
    if (list->count > before) list->items[before].path = name;
}

bool hf_table_enough(const hf_table *table) {
    return table->reader.out_of_memory || table->reader.findings->errors >= HF_TABLE_FINDINGS;
}
