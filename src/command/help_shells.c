/* Completion for shells: each script hands the words to the program, which knows commands, options and the campaign file
 * (command/complete.h). A shell is one row. */
#include <string.h>
#include "holdfast/command/help.h"

/* Words are parted at '=' there: they are joined again, and the part before it taken off what comes back. */
static const char bash[] =
    "# bash completion for holdfast, made by `holdfast help --completion bash`\n"
    "_holdfast() {\n"
    "    local at piece word rest joined= words=()\n"
    "    COMPREPLY=()\n"
    "    for ((at = 1; at <= COMP_CWORD; at++)); do\n"
    "        piece=${COMP_WORDS[at]}\n"
    "        if [[ $piece == '=' && ${#words[@]} -gt 0 ]]; then\n"
    "            words[${#words[@]}-1]+='=' joined=1\n"
    "        elif [[ $joined ]]; then\n"
    "            words[${#words[@]}-1]+=$piece joined=\n"
    "        else\n"
    "            words+=(\"$piece\")\n"
    "        fi\n"
    "    done\n"
    "    compopt +o default 2>/dev/null\n"
    "    while IFS=$'\\t' read -r word rest; do\n"
    "        if [[ $word == ':file' ]]; then\n"
    "            compopt -o default 2>/dev/null\n"
    "            continue\n"
    "        fi\n"
    "        if [[ ${words[-1]} == -*=* ]]; then word=${word#*=}; fi\n"
    "        printf -v word %q \"$word\"\n"
    "        COMPREPLY+=(\"$word\")\n"
    "    done < <(\"${COMP_WORDS[0]}\" help --complete -- \"${words[@]}\" 2>/dev/null)\n"
    "}\n"
    "complete -o default -F _holdfast holdfast\n";

static const char zsh[] =
    "#compdef holdfast\n"
    "# zsh completion for holdfast, made by `holdfast help --completion zsh`\n"
    "_holdfast() {\n"
    "    local word rest files=\n"
    "    local -a found about\n"
    "    while IFS=$'\\t' read -r word rest; do\n"
    "        if [[ $word == ':file' ]]; then\n"
    "            files=1\n"
    "        else\n"
    "            found+=(\"$word\")\n"
    "            about+=(\"$word${rest:+  -- $rest}\")\n"
    "        fi\n"
    "    done < <(\"${words[1]}\" help --complete -- \"${(@)words[2,CURRENT]}\" 2>/dev/null)\n"
    "    (( ${#found} )) && compadd -l -d about -a found\n"
    "    [[ -n $files ]] && _files\n"
    "}\n"
    "if [[ $zsh_eval_context[-1] == loadautofunc ]]; then _holdfast \"$@\"; else compdef _holdfast holdfast; "
    "fi\n";

static const char fish[] = "# fish completion for holdfast, made by `holdfast help --completion fish`\n"
                           "function __holdfast_complete\n"
                           "    set -l words (commandline -opc) (commandline -ct)\n"
                           "    test (count $words) -ge 2; or set -a words ''\n"
                           "    for line in ($words[1] help --complete -- $words[2..-1] 2>/dev/null)\n"
                           "        if test \"$line\" = ':file'\n"
                           "            __fish_complete_path (commandline -ct)\n"
                           "        else\n"
                           "            echo $line\n"
                           "        end\n"
                           "    end\n"
                           "end\n"
                           "complete -c holdfast -f -a '(__holdfast_complete)'\n";

static const struct { const char *name, *script; } shells[] = {{"bash", bash}, {"zsh", zsh}, {"fish", fish}};

const char *hf_help_shell(size_t at) {
    return at < sizeof shells / sizeof *shells ? shells[at].name : NULL;
}

void hf_help_completion(const char *shell, hf_text *out) {
    for (size_t i = 0; i < sizeof shells / sizeof *shells; i++)
        if (strcmp(shells[i].name, shell) == 0) hf_text_add(out, shells[i].script);
}
