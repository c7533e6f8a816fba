#include "daemon/cli/program.h"

#include "daemon/cli/commands.h"
#include "daemon/cli/exit_status.h"
#include "daemon/cli/help_command.h"
#include "daemon/cli/usage_hint.h"
#include "tripline/version.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <iostream>

namespace tripline::cli {
namespace {

constexpr auto about = "Hands-free keying for a push-to-talk radio station: the operator's tool.";

}  // namespace

std::shared_ptr<CLI::App> make_program(ExitCode& outcome) {
    auto program = std::make_shared<CLI::App>(about, "tripline");
    program->set_version_flag("--version", std::string("tripline ") + version);
    program->footer(exit_status_text(exit_codes));
    program->require_subcommand(1);
    add_config(*program, outcome);
    add_desk(*program, outcome);
    add_devices(*program, outcome);
    add_explain(*program, outcome);
    add_help(*program);
    add_inspect(*program, outcome);
    add_lines(*program, outcome);
    add_log(*program, outcome);
    add_prove(*program, outcome);
    add_release(*program, outcome);
    add_replay(*program, outcome);
    add_run(*program, outcome);
    add_setup(*program, outcome);
    add_tune(*program, outcome);
    add_watch(*program, outcome);
    return program;
}

int run_program(int argc, const char* const* argv) {
    auto outcome = ExitCode::good;
    const auto program = make_program(outcome);
    try {
        auto words = without_help_command(*program, {argv + 1, argv + argc});
        std::ranges::reverse(words);   // as CLI11 takes them
        program->parse(std::move(words));
    } catch (const CLI::Success& help) {
        return program->exit(help);
    } catch (const CLI::Error& error) {
        std::cerr << usage_hint(*program, error);
        return static_cast<int>(ExitCode::refused);
    } catch (const std::exception& error) {
        std::cerr << name_of(*program) << ": " << error.what() << '\n';
        return static_cast<int>(ExitCode::refused);
    }
    if (!std::cout.flush()) {
        std::cerr << name_of(*program) << ": the output could not be written\n";
        return static_cast<int>(ExitCode::refused);
    }
    return static_cast<int>(outcome);
}

}  // namespace tripline::cli
