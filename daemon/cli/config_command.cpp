// config check, config show, config defaults
#include "config/write.h"
#include "daemon/cli/commands.h"
#include "daemon/cli/config_options.h"

#include <CLI/CLI.hpp>

#include <iostream>
#include <memory>

namespace tripline::cli {
namespace {

ExitCode check(const std::string& file) {
    const auto loaded = config::load(file);
    tell(loaded.problems);
    if (!loaded.good()) return ExitCode::refused;
    std::cout << file << ": good\n";
    return ExitCode::good;
}

ExitCode show(const ConfigOptions& options) {
    const auto loaded = load_or_tell(options);
    if (!loaded) return ExitCode::refused;
    std::cout << config::show(*loaded);
    return ExitCode::good;
}

}  // namespace

void add_config(CLI::App& program, ExitCode& outcome) {
    auto* group = program.add_subcommand("config", "Check and show settings");
    group->require_subcommand(1);

    auto* check_command = group->add_subcommand("check", "Tell all that is wrong with a file");
    const auto file = std::make_shared<std::string>();
    check_command->add_option("FILE", *file, "Configuration file")->required();
    check_command->callback([file, &outcome] { outcome = check(*file); });

    auto* show_command = group->add_subcommand(
        "show", "Print the settings in force, and where each comes from, as a valid file");
    const auto options = std::make_shared<ConfigOptions>();
    add_config_options(*show_command, *options);
    show_command->callback([options, &outcome] { outcome = show(*options); });

    auto* defaults = group->add_subcommand("defaults", "Print the commented file that ships");
    defaults->callback([] { std::cout << config::shipped_file(); });
}

}  // namespace tripline::cli
