#include "daemon/cli/replay_options.h"

#include "daemon/cli/plot_file.h"

#include <CLI/CLI.hpp>

#include <stdexcept>

namespace tripline::cli {
namespace {

void add_output_options(CLI::App& command, ReplayOptions& o) {
    command.add_option("--labels", o.labels, "Who speaks when, in RTTM: the report scores against it")
        ->type_name("FILE");
    command.add_option("--events", o.events, "Write every event there, a line of JSON each")
        ->type_name("FILE");
    command.add_option("--memory", o.memory, "Begin with what the station remembered: the .memory file of a capture")
        ->type_name("FILE");
    command.add_option("--plot", o.plot, "Draw levels, thresholds, keyed spells and mistakes there: SVG, or a page to zoom in if it ends in .html")
        ->type_name("FILE");
    command
        .add_option_function<std::string>(
            "--report", [&o](const std::string& form) { o.json = form == "json"; }, "text or json")
        ->check(CLI::IsMember({"text", "json"}))
        ->type_name("FORM");
}

/// The library's own check tells the range in three hundred digits.
CLI::Validator not_negative() {
    return {[](std::string& text) {
                double number = -1.0;
                const bool good = CLI::detail::lexical_cast(text, number) && number >= 0.0;
                return good ? std::string() : text + " is not a number of 0 or more";
            },
            ""};
}

void add_limit_options(CLI::App& command, replay::Limits& limits) {
    const auto add = [&](const char* name, std::optional<double>& limit, const char* help) {
        command.add_option(name, limit, help)->check(not_negative())->group("Limits");
    };
    add("--max-missed", limits.missed, "Overs missed; 0 unless given");
    add("--max-torn", limits.torn, "Overs that were caught, but lost more than a tenth of their speech; 0 unless given");
    add("--max-false-keys", limits.false_keys, "False keys; 0 unless given");
    add("--max-held-on", limits.held_on, "Overs after which the key stays closed; 0 unless given");
    add("--max-onset-p50-ms", limits.onset_p50_ms, "Median onset");
    add("--max-onset-p95-ms", limits.onset_p95_ms, "95th percentile of the onset");
    add("--max-clipped-percent", limits.clipped_percent, "Overs that lose more than 50 ms at the front");
    add("--max-lost-percent", limits.lost_percent, "Speech not heard on the air");
    add("--max-cost", limits.cost, "Detection cost");
}

bool any(const replay::Limits& limits) {
    return limits.missed || limits.torn || limits.false_keys || limits.held_on || limits.onset_p50_ms || limits.onset_p95_ms ||
           limits.clipped_percent || limits.lost_percent || limits.cost;
}

}  // namespace

void add_replay_options(CLI::App& command, ReplayOptions& options) {
    command.add_option("FILE", options.files, "Recordings: microphone left, receiver right")->required();
    add_sound_options(command, options.sound);
    add_output_options(command, options);
    add_limit_options(command, options.limits);
    add_config_options(command, options.config);
}

void check(const ReplayOptions& o) {
    if (o.files.size() > 1 && !o.sound.monitor.empty()) {
        throw std::runtime_error("--monitor goes with one FILE only");
    }
    if (o.files.size() > 1 && !o.events.empty()) {
        throw std::runtime_error("--events goes with one FILE only");
    }
    if (o.files.size() > 1 && !o.memory.empty()) {
        throw std::runtime_error("--memory goes with one FILE only");
    }
    if (o.files.size() > 1 && !o.plot.empty()) {
        throw std::runtime_error("--plot goes with one FILE only");
    }
    check_plot(o.plot, Plots::picture_or_page);
    if (o.labels.empty() && any(o.limits)) throw std::runtime_error("limits need --labels");
}

replay::Limits ReplayOptions::limits_in_force() const {
    replay::Limits in_force = limits;
    if (labels.empty()) return in_force;
    if (!in_force.missed) in_force.missed = 0;
    if (!in_force.torn) in_force.torn = 0;
    if (!in_force.false_keys) in_force.false_keys = 0;
    if (!in_force.held_on) in_force.held_on = 0;
    return in_force;
}

}  // namespace tripline::cli
