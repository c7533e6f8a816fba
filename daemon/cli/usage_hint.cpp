#include "daemon/cli/usage_hint.h"

#include "config/edit_distance.h"

#include <CLI/CLI.hpp>

namespace tripline::cli {
namespace {

/// The command that the words before the mistake led to.
const CLI::App& deepest(const CLI::App& app) {
    const auto chosen = app.get_subcommands();
    return chosen.empty() ? app : deepest(*chosen.front());
}

std::vector<std::string> commands_of(const CLI::App& app) {
    std::vector<std::string> names;
    for (const auto* command : app.get_subcommands(nullptr)) names.push_back(command->get_name());
    return names;
}

std::vector<std::string> options_of(const CLI::App& app) {
    std::vector<std::string> names;
    for (const auto* option : app.get_options()) {
        for (const auto& name : option->get_lnames()) names.push_back("--" + name);
    }
    return names;
}

std::string nearest(const std::string& word, const std::vector<std::string>& names) {
    auto best = 1 + word.size() / 3;
    std::string found;
    for (const auto& name : names) {
        const auto distance = word.size() > 64 ? best : config::edit_distance(word, name);
        if (distance >= best) continue;
        best = distance;
        found = name;
    }
    return found;
}

std::string with_suggestion(const std::string& what, const std::string& word,
                            const std::vector<std::string>& names) {
    const auto meant = nearest(word, names);
    return what + word + (meant.empty() ? "" : "; did you mean " + meant + "?");
}

std::string what_is_wrong(const CLI::App& program, const CLI::Error& error) {
    const auto& command = deepest(program);
    const auto left = program.remaining(true);
    if (left.empty()) return error.what();
    const auto word = left.front().substr(0, left.front().find('='));
    if (word.starts_with('-'))
        return with_suggestion("no such option: ", word, options_of(command));
    const auto commands = commands_of(command);
    if (commands.empty()) return error.what();
    return with_suggestion("no such command: ", word, commands);
}

}  // namespace

std::string name_of(const CLI::App& program) {
    const auto chosen = program.get_subcommands();
    return chosen.empty() ? program.get_name()
                          : program.get_name() + ' ' + name_of(*chosen.front());
}

std::string usage_hint(const CLI::App& program, const CLI::Error& error) {
    const auto name = name_of(program);
    return name + ": " + what_is_wrong(program, error) + "\nTry: " + name + " --help\n";
}

}  // namespace tripline::cli
