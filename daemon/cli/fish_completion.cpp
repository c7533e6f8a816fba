#include "daemon/cli/completion_parts.h"
#include "daemon/cli/completions.h"

namespace tripline::cli {
namespace {

std::string head_of(const CommandOutline& program, const CommandOutline& command) {
    return "complete -c " + program.name + " -n \"__" + program.name + "_at " +
           fish_quoted(command.path) + '"';
}

std::string value_of(const OptionOutline& option) {
    switch (completes(option)) {
        case Completes::file: return " -r -F";
        case Completes::word: return " -x -a " + fish_quoted(joined(words_for(option), " "));
        case Completes::nothing: break;
    }
    return " -x";
}

std::string option_line(const std::string& head, const OptionOutline& option) {
    if (option.positional) return completes(option) == Completes::file ? head + " -F\n" : "";
    auto line = head;
    for (const auto& name : option.names) {
        line += name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1);
    }
    if (!option.value.empty()) line += value_of(option);
    return line + " -d " + fish_quoted(option.help) + '\n';
}

/// Tells whether the words so far lead to a command.
std::string test_function(const CommandOutline& program) {
    std::string cases;
    for (const auto& command : with_all_below(program)) {
        if (command.path != program.path) cases += ' ' + fish_quoted(command.path);
    }
    std::string text = "function __" + program.name + "_at\n    set -l at " + program.name + '\n';
    if (!cases.empty()) {
        text +=
            "    for word in (commandline -opc)[2..-1]\n        switch \"$at $word\"\n            "
            "case" +
            cases + "\n                set at \"$at $word\"\n        end\n    end\n";
    }
    return text + "    test \"$at\" = \"$argv[1]\"\nend\n";
}

}  // namespace

std::string fish_completion(const Programs& programs) {
    std::string text = "# Completion for fish.\n";
    for (const auto& program : programs) {
        text += test_function(program) + "complete -c " + program.name + " -f\n";
        for (const auto& command : with_all_below(program)) {
            const auto head = head_of(program, command);
            for (const auto& inner : command.commands) {
                text += head + " -a " + inner.name + " -d " + fish_quoted(inner.summary) + '\n';
            }
            for (const auto& option : command.options) text += option_line(head, option);
        }
    }
    return text;
}

}  // namespace tripline::cli
