#include "daemon/cli/completion_parts.h"
#include "daemon/cli/completions.h"

namespace tripline::cli {
namespace {

/// The loop that finds out which command the words so far lead to.
std::string find_command(const CommandOutline& program) {
    std::vector<std::string> paths;
    for (const auto& command : with_all_below(program)) {
        if (command.path != program.path) paths.push_back(sh_quoted(command.path));
    }
    std::string text = "    local at=" + program.name + " word\n";
    if (paths.empty()) return text;
    return text + "    for word in \"${COMP_WORDS[@]:1:COMP_CWORD-1}\"; do\n" +
           "        case \"$at $word\" in\n            " + joined(paths, " | ") +
           ") at=\"$at $word\" ;;\n        esac\n    done\n";
}

std::string value_case(const CommandOutline& command, const OptionOutline& option) {
    std::vector<std::string> patterns;
    for (const auto& name : option.names) patterns.push_back(sh_quoted(command.path + ' ' + name));
    std::string action;
    switch (completes(option)) {
        case Completes::file: action = "_tripline_files"; break;
        case Completes::word:
            action = "_tripline_words " + sh_quoted(joined(words_for(option), " "));
            break;
        case Completes::nothing: action = "COMPREPLY=()"; break;
    }
    return "        " + joined(patterns, " | ") + ") " + action + "; return ;;\n";
}

std::string values(const CommandOutline& program) {
    std::string cases;
    for (const auto& command : with_all_below(program)) {
        for (const auto& option : command.options) {
            if (!option.positional && !option.value.empty()) cases += value_case(command, option);
        }
    }
    if (cases.empty()) return {};
    return "    case \"$at ${COMP_WORDS[COMP_CWORD-1]}\" in\n" + cases + "    esac\n";
}

std::string words_of(const CommandOutline& command) {
    std::vector<std::string> words;
    bool files = false;
    for (const auto& inner : command.commands) words.push_back(inner.name);
    for (const auto& option : command.options) {
        if (option.positional) {
            files = files || completes(option) == Completes::file;
            continue;
        }
        words.insert(words.end(), option.names.begin(), option.names.end());
    }
    std::string text = "        " + sh_quoted(command.path) + ")\n";
    if (files) text += "            [[ $cur == -* ]] || { _tripline_files; return; }\n";
    return text + "            _tripline_words " + sh_quoted(joined(words, " ")) + " ;;\n";
}

std::string function_of(const CommandOutline& program) {
    std::string text = "_" + program.name +
                       "_complete() {\n    local cur=${COMP_WORDS[COMP_CWORD]}\n" +
                       find_command(program) + values(program) + "    case $at in\n";
    for (const auto& command : with_all_below(program)) text += words_of(command);
    return text + "    esac\n}\ncomplete -F _" + program.name + "_complete " + program.name + '\n';
}

constexpr auto helpers = R"(# Completion for bash.
_tripline_files() {
    compopt -o filenames 2>/dev/null
    mapfile -t COMPREPLY < <(compgen -f -- "$cur")
}
_tripline_words() {
    mapfile -t COMPREPLY < <(compgen -W "$1" -- "$cur")
    [[ ${#COMPREPLY[@]} -ne 1 || ${COMPREPLY[0]} != *= ]] || compopt -o nospace 2>/dev/null
}
)";

}  // namespace

std::string bash_completion(const Programs& programs) {
    std::string text = helpers;
    for (const auto& program : programs) text += function_of(program);
    return text;
}

}  // namespace tripline::cli
