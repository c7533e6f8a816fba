#include "daemon/cli/completion_parts.h"
#include "daemon/cli/completions.h"

namespace tripline::cli {
namespace {

/// Brackets and colons mean something to _arguments and _describe.
std::string escaped(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c == '[' || c == ']' || c == ':' || c == '\\') out += '\\';
        out += c;
    }
    return out;
}

std::string action_of(const OptionOutline& option) {
    switch (completes(option)) {
        case Completes::file: return "_files";
        case Completes::word:
            return option.choices.empty() ? "->keys" : '(' + joined(option.choices, " ") + ')';
        case Completes::nothing: break;
    }
    return " ";
}

std::string argument_of(const OptionOutline& option) {
    const auto value = ':' + escaped(option.value) + ':' + action_of(option);
    if (option.positional) return ' ' + sh_quoted((option.repeated ? "*" : "") + value);
    const std::string many = option.repeated ? "*" : "";
    std::string text;
    for (const auto& name : option.names) {
        text += ' ' + sh_quoted(many + name + '[' + escaped(option.help) + ']' +
                                (option.value.empty() ? "" : value));
    }
    return text;
}

std::string case_of(const CommandOutline& command) {
    std::string text = "        " + sh_quoted(command.path) + ")\n";
    if (!command.commands.empty()) {
        text += "            local -a commands=(";
        for (const auto& inner : command.commands) {
            text += ' ' + sh_quoted(inner.name + ':' + escaped(inner.summary));
        }
        text += " )\n            [[ $PREFIX == -* ]] || _describe command commands\n";
    }
    text += "            _arguments -S";
    for (const auto& option : command.options) text += argument_of(option);
    return text + " ;;\n";
}

std::string function_of(const CommandOutline& program) {
    std::vector<std::string> paths, keys;
    std::string cases;
    for (const auto& command : with_all_below(program)) {
        cases += case_of(command);
        if (command.path != program.path) paths.push_back(sh_quoted(command.path));
    }
    OptionOutline setting;
    for (const auto& key : words_for(setting)) keys.push_back(sh_quoted(key));
    std::string text = "_" + program.name + "_complete() {\n    local at=" + program.name +
                       " word state depth=0\n    local -a keys=( " + joined(keys, " ") + " )\n";
    if (!paths.empty()) {
        text += "    for word in ${words[2,CURRENT-1]}; do\n        case \"$at $word\" in\n" +
                ("            " + joined(paths, " | ")) +
                ") at=\"$at $word\"; (( depth += 1 )) ;;\n        esac\n    done\n" +
                "    shift $depth words; (( CURRENT -= depth ))\n";
    }
    return text + "    case $at in\n" + cases + "    esac\n" +
           "    [[ $state != keys ]] || compadd -S '' -- $keys\n}\n";
}

}  // namespace

std::string zsh_completion(const Programs& programs) {
    std::string names, functions, choice;
    for (const auto& program : programs) {
        names += ' ' + program.name;
        functions += function_of(program);
        choice += "    " + program.name + ") _" + program.name + "_complete ;;\n";
    }
    return "#compdef" + names + '\n' + functions + "case $service in\n" + choice + "esac\n";
}

}  // namespace tripline::cli
