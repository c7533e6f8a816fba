#include "daemon/cli/outline.h"

#include <CLI/CLI.hpp>

#include <algorithm>

namespace tripline::cli {
namespace {

/// CLI11 tells an IsMember check as "{a,b}" after the type's name.
std::vector<std::string> choices_of(const std::string& type) {
    const auto open = type.find('{');
    const auto close = type.find('}', open);
    if (open == std::string::npos || close == std::string::npos) return {};
    return CLI::detail::split(type.substr(open + 1, close - open - 1), ',');
}

OptionOutline outline_of(const CLI::Option& option) {
    OptionOutline outline;
    for (const auto& name : option.get_snames()) outline.names.push_back("-" + name);
    for (const auto& name : option.get_lnames()) outline.names.push_back("--" + name);
    outline.positional = outline.names.empty();
    if (outline.positional) outline.names.push_back(option.get_single_name());
    const auto type = option.get_type_name();
    outline.choices = choices_of(type);
    const bool takes_value = option.get_items_expected_max() > 0;
    if (takes_value)
        outline.value = outline.positional ? outline.names.front() : type.substr(0, type.find(':'));
    outline.help = option.get_description();
    outline.required = option.get_required();
    outline.repeated = option.get_items_expected_max() > 1;
    return outline;
}

CommandOutline outline_of(const CLI::App& app, const std::string& above) {
    CommandOutline outline;
    outline.name = app.get_name();
    outline.path = above.empty() ? outline.name : above + ' ' + outline.name;
    outline.summary = app.get_description();
    for (const auto* option : app.get_options()) outline.options.push_back(outline_of(*option));
    std::stable_partition(outline.options.begin(), outline.options.end(),
                          [](const auto& option) { return !option.positional; });
    for (const auto* command : app.get_subcommands(nullptr)) {
        outline.commands.push_back(outline_of(*command, outline.path));
    }
    return outline;
}

}  // namespace

CommandOutline outline_of(const CLI::App& program) { return outline_of(program, {}); }

std::vector<CommandOutline> doing(const CommandOutline& command) {
    if (command.commands.empty()) return {command};
    std::vector<CommandOutline> all;
    for (const auto& inner : command.commands) {
        for (auto& one : doing(inner)) all.push_back(std::move(one));
    }
    return all;
}

}  // namespace tripline::cli
