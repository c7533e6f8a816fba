// status, arm, safe, key, unkey, set, save, capture, mark: a running station by its socket.
#include "config/live.h"
#include "daemon/cli/answer.h"
#include "daemon/cli/captures.h"
#include "daemon/cli/commands.h"
#include "daemon/cli/desk_options.h"
#include "daemon/cli/desk_text.h"
#include "daemon/logbook/mark.h"

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include <iostream>
#include <limits>
#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

namespace tripline::cli {
namespace {

using Json = nlohmann::json;

struct StatusOptions {
    DeskOptions desk;
    bool json = false;
    bool metrics = false;
    bool settings = false;
};

struct ChangeOptions {
    DeskOptions desk;
    std::string setting;
    std::string mark;
    std::uint64_t over = 0;
};

ExitCode tell_status(const StatusOptions& options) {
    const std::string wanted = options.metrics ? "metrics" : options.settings ? "settings" : "status";
    const std::string answer = ask(options.desk, Json{{"do", wanted}}.dump());
    if (options.json) std::cout << answer << '\n';
    else if (options.metrics) std::cout << metrics_text(answer);
    else if (options.settings) std::cout << settings_text(answer);
    else std::cout << status_text(answer);
    return ExitCode::good;
}

/// As ask(); where nobody answers a command that opens or closes the key, what to do then.
std::string ask_for_change(const DeskOptions& options, const Json& request) {
    const bool moves_key = request.value("mode", std::string()) != "armed" || request.contains("from");
    try {
        return ask(options, request.dump());
    } catch (const std::runtime_error& error) {
        if (request.at("do") != "mode" || !moves_key) throw;
        throw std::runtime_error(error.what() + std::string("; whether the key is open is not known: look at the transmitter, and use its own switch"));
    }
}

/// What the daemon said to a change: what it did to standard output, why not to standard error.
ExitCode change(const DeskOptions& options, const Json& request) {
    const Json answer = Json::parse(ask_for_change(options, request));
    const bool good = answer.value("ok", false);
    const std::string text = answer.value(good ? "did" : "why", std::string(good ? "done" : "refused"));
    (good ? std::cout : std::cerr) << text << '\n';
    return good ? ExitCode::good : ExitCode::refused;
}

/// Of the blanks that a settings file has around its =.
std::string bare(const std::string& text) {
    const auto first = text.find_first_not_of(" \t");
    return first == std::string::npos ? std::string() : text.substr(first, text.find_last_not_of(" \t") + 1 - first);
}

Json set_request(const std::string& setting) {
    const auto equals = setting.find('=');
    if (equals == std::string::npos) throw std::runtime_error(setting + " is not KEY=VALUE");
    const std::string wrong = config::fault_of_one(setting);
    if (!wrong.empty()) throw std::runtime_error(wrong);
    return {{"do", "set"}, {"key", bare(setting.substr(0, equals))}, {"value", bare(setting.substr(equals + 1))}};
}

Json mark_request(const ChangeOptions& options) {
    return {{"do", "mark"}, {"as", options.mark}, {"over", options.over}};
}

void add_status(CLI::App& program, ExitCode& outcome) {
    auto* command = program.add_subcommand("status", "Tell how a running station stands");
    const auto options = std::make_shared<StatusOptions>();
    add_desk_options(*command, options->desk);
    command->add_flag("--json", options->json, "The daemon's own answer, a line of JSON");
    auto* metrics = command->add_flag("--metrics", options->metrics, "Counters, in Prometheus' text format");
    command->add_flag("--settings", options->settings, "The settings that may be set while running")
        ->excludes(metrics);
    command->callback([options, &outcome] {
        locate(options->desk);
        outcome = understood(options->desk.socket, [&] { return tell_status(*options); });
    });
}

using MakeRequest = Json (*)(const ChangeOptions&);

std::shared_ptr<ChangeOptions> add_change(CLI::App& program, ExitCode& outcome, const char* name,
                                          const char* about, MakeRequest request) {
    auto* command = program.add_subcommand(name, about);
    const auto options = std::make_shared<ChangeOptions>();
    add_desk_options(*command, options->desk);
    command->callback([=, &outcome] {
        locate(options->desk);
        outcome = understood(options->desk.socket, [&] { return change(options->desk, request(*options)); });
    });
    return options;
}

template <class Value>
CLI::Option* take(CLI::App& program, const char* command, const char* name, Value& value, const char* about, bool needed) {
    return program.get_subcommand(command)->add_option(name, value, about)->required(needed);
}

ExitCode tell_captured(const DeskOptions& options) {
    for (const Written& written : capture(options)) std::cout << written.sound.string() << '\n';
    return ExitCode::good;
}

void add_capture(CLI::App& program, ExitCode& outcome) {
    auto* command = program.add_subcommand("capture", "Keep what was heard just now in a file, and print its path");
    const auto options = std::make_shared<DeskOptions>();
    add_desk_options(*command, *options);
    command->callback([options, &outcome] {
        locate(*options);
        outcome = tell_captured(*options);
    });
}

}  // namespace

void add_desk(CLI::App& program, ExitCode& outcome) {
    add_status(program, outcome);
    add_change(program, outcome, "arm", "The voice keys from now on",
               [](const ChangeOptions&) { return Json{{"do", "mode"}, {"mode", "armed"}}; });
    add_change(program, outcome, "safe", "Release the key at once; nothing keys from now on",
               [](const ChangeOptions&) { return Json{{"do", "mode"}, {"mode", "safe"}}; });
    add_change(program, outcome, "key", "Force the key, for tuning, under the limit of an over",
               [](const ChangeOptions&) { return Json{{"do", "mode"}, {"mode", "keyed"}}; });
    add_change(program, outcome, "unkey", "End a forced transmission; the voice keys from now on",
               [](const ChangeOptions&) { return Json{{"do", "mode"}, {"mode", "armed"}, {"from", "keyed"}}; });
    const auto set = add_change(program, outcome, "set", "Change one setting of a running station",
                                [](const ChangeOptions& o) { return set_request(o.setting); });
    take(program, "set", "SETTING", set->setting, "KEY=VALUE, as in the settings file", true);
    add_change(program, outcome, "save", "Write what was set into the settings file",
               [](const ChangeOptions&) { return Json{{"do", "save"}}; });
    add_capture(program, outcome);
    add_change(program, outcome, "page", "Print the address of the station's page, with its token",
               [](const ChangeOptions&) { return Json{{"do", "page"}}; });
    const auto mark = add_change(program, outcome, "mark", "Say that the station was wrong; its black box is asked for what it keeps", mark_request);
    take(program, "mark", "AS", mark->mark, "false: it keyed and should not have; missed: it did not key just now; late: it keyed too late", true)
        ->check(CLI::IsMember(std::vector<std::string>(logbook::mark_names.begin() + 1, logbook::mark_names.end())));
    take(program, "mark", "OVER", mark->over, "Number of the over; the last one if not given", false)
        ->check(CLI::Range(1, std::numeric_limits<int>::max()).description(""));
}

}  // namespace tripline::cli
