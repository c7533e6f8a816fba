// config check, config show, config defaults
#include "config/write.h"
#include "daemon/cli/commands.h"
#include "daemon/cli/config_options.h"
#include "daemon/cli/exit_status.h"

#include <CLI/CLI.hpp>

#include <array>
#include <iostream>
#include <memory>
#include <stdexcept>

namespace tripline::cli {
namespace {

ExitCode check(const ConfigOptions& options) {
    if (options.file.empty() && options.overlays.empty())
        throw std::invalid_argument("name a file, or a setting with --set");
    const auto loaded = load_or_tell(options);
    if (!loaded) return ExitCode::refused;
    const bool wired = loaded->settings.lines[lines::index(lines::Role::ptt)].kind != lines::Kind::none;
    std::cout << (options.file.empty() ? "--set" : options.file) << ": good" << (wired ? "" : "; no wire is keyed: line.ptt.kind is \"none\"") << '\n';
    return ExitCode::good;
}

ExitCode show(const ConfigOptions& options) {
    const auto loaded = load_or_tell(options);
    if (!loaded) return ExitCode::refused;
    std::cout << config::show(*loaded);
    return ExitCode::good;
}

constexpr std::array statuses{
    ExitCodeText{ExitCode::good, "The settings are good."},
    ExitCodeText{ExitCode::refused, "A setting, the file or the usage is wrong."}};

/// FILE, --config FILE and --set.
std::shared_ptr<ConfigOptions> add_options(CLI::App& command) {
    const auto options = std::make_shared<ConfigOptions>();
    auto* file = command.add_option("FILE", options->file, "Configuration file; the same as --config FILE");
    add_config_options(command, *options);
    file->excludes(command.get_option("--config"));
    command.footer(exit_status_text(statuses));
    return options;
}

}  // namespace

void add_config(CLI::App& program, ExitCode& outcome) {
    auto* group = program.add_subcommand("config", "Check and show settings");
    group->require_subcommand(1);

    auto* check_command = group->add_subcommand("check", "Tell all that is wrong with a file");
    const auto to_check = add_options(*check_command);
    check_command->callback([to_check, &outcome] { outcome = check(*to_check); });

    auto* show_command = group->add_subcommand(
        "show", "Print the settings in force, and where each comes from, as a valid file");
    const auto to_show = add_options(*show_command);
    show_command->callback([to_show, &outcome] { outcome = show(*to_show); });

    auto* defaults = group->add_subcommand("defaults", "Print the commented file that ships");
    defaults->callback([] { std::cout << config::shipped_file(); });
}

}  // namespace tripline::cli
