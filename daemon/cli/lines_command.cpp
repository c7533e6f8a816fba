// lines: what is wired, and the trial of one line.
#include "config/keys.h"
#include "daemon/cli/commands.h"
#include "daemon/cli/config_options.h"
#include "daemon/cli/exit_status.h"
#include "daemon/lines/trial.h"

#include <CLI/CLI.hpp>

#include <array>
#include <iostream>
#include <memory>
#include <thread>

namespace tripline::cli {
namespace {

using lines::TrialResult;

class Terminal : public lines::Attendant {
public:
    void say(std::string_view text) override { std::cout << text << std::endl; }
    std::string ask(std::string_view question) override {
        std::cout << question << ' ' << std::flush;
        std::string answer;
        std::getline(std::cin, answer);
        return answer;
    }
    void wait(Duration time) override { std::this_thread::sleep_for(time); }
};

ExitCode list(const config::Settings& settings) {
    for (const auto role : lines::all_roles) {
        const auto table = "line." + std::string(name(role));
        std::cout << name(role);
        for (const auto* leaf : {"kind", "device", "pin", "active"}) {
            const auto* key = config::find_key(table + '.' + leaf);
            std::cout << "  " << leaf << " = " << to_toml(key->read(settings));
        }
        std::cout << '\n';
    }
    return ExitCode::good;
}

lines::Role role_named(const std::string& word) {
    for (const auto role : lines::all_roles) {
        if (name(role) == word) return role;
    }
    throw std::invalid_argument("no line is called " + word);
}

constexpr std::array statuses{
    ExitCodeText{ExitCode::good, "The lines were listed; or the line was seen to switch and go back."},
    ExitCodeText{ExitCode::limits_not_met, "The line was switched, and not seen to move."},
    ExitCodeText{ExitCode::refused, "Declined, not wired, failed, or the configuration is wrong."}};

ExitCode code_of(TrialResult result) {
    if (result == TrialResult::moved) return ExitCode::good;
    return result == TrialResult::unmoved ? ExitCode::limits_not_met : ExitCode::refused;
}

ExitCode run(const ConfigOptions& options, const std::string& role) {
    const auto loaded = load_or_tell(options);
    if (!loaded) return ExitCode::refused;
    if (role.empty()) return list(loaded->settings);
    Terminal terminal;
    return code_of(lines::try_line(loaded->settings.lines, role_named(role), terminal));
}

std::vector<std::string> role_names() {
    std::vector<std::string> names;
    for (const auto role : lines::all_roles) names.emplace_back(name(role));
    return names;
}

}  // namespace

void add_lines(CLI::App& program, ExitCode& outcome) {
    auto* command = program.add_subcommand(
        "lines", "Show what is wired; with a role, try that line for a second");
    const auto options = std::make_shared<ConfigOptions>();
    const auto role = std::make_shared<std::string>();
    command->add_option("ROLE", *role, "The line to try")->check(CLI::IsMember(role_names()));
    add_config_options(*command, *options);
    command->footer(exit_status_text(statuses));
    command->callback([options, role, &outcome] { outcome = run(*options, *role); });
}

}  // namespace tripline::cli
