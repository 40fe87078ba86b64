/* The completion script for bash. It is plain data from the records plus one fixed function. */
#include "holdfast/command/help.h"

static void add_commands(hf_text *out) {
    const hf_command *command;
    hf_text_add(out, "_holdfast_commands=(");
    for (size_t at = 0; (command = hf_command_at(at)) != NULL; at++)
        hf_text_addf(out, at ? " '%s'" : "'%s'", command->name);
    hf_text_add(out, ")\n");
}

static void add_options_of(const hf_command *command, hf_text *out) {
    const hf_option *row;
    const char *glue = "";
    hf_text_addf(out, "        '%s') echo '", command->name);
    for (size_t at = 0; (row = hf_command_option(command, at, NULL)) != NULL; at++) {
        if (row->hidden) continue;
        hf_text_addf(out, "%s--%s", glue, row->name);
        glue = " ";
    }
    hf_text_add(out, "' ;;\n");
}

static void add_option_words(hf_text *out) {
    const hf_command *command;
    hf_text_add(out, "_holdfast_options() {\n    case $1 in\n");
    for (size_t at = 0; (command = hf_command_at(at)) != NULL; at++) add_options_of(command, out);
    hf_text_add(out, "    esac\n}\n");
}

/* What follows an option: a list of choices, a file ("FILE:"), anything ("ANY:"), or nothing for flags. */
static void add_values_of(const hf_command *command, const hf_option *row, hf_text *out) {
    if (row->hidden || row->type == HF_OPTION_FLAG) return;
    hf_text_addf(out, "        '%s --%s'", command->name, row->name);
    if (row->letter) hf_text_addf(out, "|'%s -%c'", command->name, row->letter);
    hf_text_add(out, ") echo '");
    if (row->type == HF_OPTION_PATH)
        hf_text_add(out, "FILE:");
    else if (row->type != HF_OPTION_CHOICE)
        hf_text_add(out, "ANY:");
    for (size_t at = 0; hf_option_choice(row, at); at++)
        hf_text_addf(out, at ? " %s" : "%s", hf_option_choice(row, at));
    hf_text_add(out, "' ;;\n");
}

static void add_value_words(hf_text *out) {
    const hf_command *command;
    const hf_option *row;
    hf_text_add(out, "_holdfast_values() {\n    case $1 in\n");
    for (size_t at = 0; (command = hf_command_at(at)) != NULL; at++) {
        for (size_t i = 0; (row = hf_command_option(command, i, NULL)) != NULL; i++)
            add_values_of(command, row, out);
    }
    hf_text_add(out, "    esac\n}\n");
}

/* With COMPREPLY left empty, `complete -o default` falls back to file names. */
static const char body[] =
    "_holdfast() {\n"
    "    local current=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD-1]}\n"
    "    local command=${COMP_WORDS[1]} known values used=1\n"
    "    COMPREPLY=()\n"
    "    if [ \"$current\" = '=' ]; then current=''; fi\n"
    "    if [ \"$previous\" = '=' ]; then previous=${COMP_WORDS[COMP_CWORD-2]}; fi\n"
    "    for known in \"${_holdfast_commands[@]}\"; do\n"
    "        if [ \"$COMP_CWORD\" -gt 2 ] && [ \"$known\" = \"${COMP_WORDS[1]} ${COMP_WORDS[2]}\" ]; then\n"
    "            command=$known used=2\n"
    "        fi\n"
    "    done\n"
    "    if [ \"$COMP_CWORD\" -eq 1 ] || { [ \"$command\" = help ] && [ \"$used\" -eq 1 ]; }; then\n"
    "        mapfile -t COMPREPLY < <(compgen -W \"${_holdfast_commands[*]}\" -- \"$current\")\n"
    "        return\n"
    "    fi\n"
    "    values=$(_holdfast_values \"$command $previous\")\n"
    "    case $values in\n"
    "        FILE:) return ;;\n"
    "        ANY:) compopt +o default 2>/dev/null; return ;;\n"
    "        ?*) mapfile -t COMPREPLY < <(compgen -W \"$values\" -- \"$current\"); return ;;\n"
    "    esac\n"
    "    case $current in\n"
    "        -*) mapfile -t COMPREPLY < <(compgen -W \"$(_holdfast_options \"$command\")\" -- \"$current\") "
    ";;\n"
    "    esac\n"
    "}\n"
    "complete -o default -F _holdfast holdfast\n";

void hf_help_bash(hf_text *out) {
    hf_text_add(out, "# bash completion for holdfast, made by `holdfast help --completion bash`\n");
    add_commands(out);
    add_option_words(out);
    add_value_words(out);
    hf_text_add(out, body);
}
