// replay
#include "daemon/cli/commands.h"
#include "daemon/cli/plot_file.h"
#include "daemon/cli/progress.h"
#include "daemon/cli/replay_options.h"
#include "daemon/cli/write_file.h"
#include "daemon/picture/replay_page.h"
#include "daemon/picture/replay_picture.h"
#include "daemon/replay/event_line.h"
#include "daemon/replay/examine.h"
#include "daemon/replay/memory_file.h"
#include "daemon/station/engine.h"

#include <CLI/CLI.hpp>

#include <fstream>
#include <iostream>
#include <memory>
#include <stdexcept>

namespace tripline::cli {
namespace {

/// The events file; does nothing without a name.
class EventFile {
public:
    explicit EventFile(const std::string& path) : path_(path) {
        if (path_.empty()) return;
        file_.open(path_, std::ios::trunc);
        if (!file_) fail();
    }
    void write(const station::Event& event, Hertz rate) {
        if (!path_.empty() && !(file_ << replay::event_line(event, rate) << '\n')) fail();
    }
    void close() {
        if (!path_.empty() && !file_.flush()) fail();
    }

private:
    [[noreturn]] void fail() const { throw std::runtime_error(path_ + ": cannot be written"); }

    std::string path_;
    std::ofstream file_;
};

replay::Result examine(const std::string& file, const ReplayOptions& options,
                       const config::Settings& in_force,
                       const std::optional<replay::LabelSet>& labels, EventFile& events) {
    Progress progress(file);
    const auto source = replay::for_station(options.source(file), in_force.audio.receiver_channel);
    const station::Settings& settings = in_force.station;
    replay::Recording recording(source);
    if (labels) note(replay::labels_elsewhere(*labels, source));
    const Hertz rate = recording.rate();
    const auto length = static_cast<double>(recording.length().count);
    replay::Watch watch{
        .event = [&](const station::Event& event) { events.write(event, rate); },
        .progress = [&](Frames at) { progress.show(static_cast<double>(at.count) / length); }};
    if (!options.memory.empty()) watch.memory = replay::read_memory(options.memory, rate);
    if (options.plot.empty()) return replay::examine(recording, source, settings, labels, watch);

    const bool page = is_page(options.plot);
    const Duration whole = to_duration(recording.length(), rate);
    picture::Columns columns(page ? picture::page_columns(whole) : picture::picture_columns, recording.length());
    watch.hop = [&](const station::Engine& engine) { columns.take(engine.now(), engine.heard()); };
    auto result = replay::examine(recording, source, settings, labels, watch);
    std::optional<replay::Spans> speech;
    if (labels) speech = replay::operator_speech(*labels, source, result.length);
    write_file(options.plot, page ? picture::replay_page(result, speech, columns)
                                  : picture::replay_picture(result, speech, columns));
    return result;
}

ExitCode replay_all(const ReplayOptions& options) {
    check(options);
    const auto loaded = load_or_tell(options.config);
    if (!loaded) return ExitCode::refused;
    std::optional<replay::LabelSet> labels;
    if (!options.labels.empty()) labels = {options.labels, replay::read_labels(options.labels)};

    note_safe_start(loaded->settings.station);
    EventFile events(options.events);
    std::vector<replay::Result> results;
    for (const auto& file : options.files) {
        results.push_back(examine(file, options, loaded->settings, labels, events));
    }
    events.close();
    const auto report = replay::make_report(std::move(results), options.limits_in_force());
    std::cout << (options.json ? replay::to_json(report) : replay::to_text(report));
    return report.met() ? ExitCode::good : ExitCode::limits_not_met;
}

}  // namespace

void add_replay(CLI::App& program, ExitCode& outcome) {
    auto* command = program.add_subcommand(
        "replay", "Put recordings through the station and tell what would have been keyed");
    const auto options = std::make_shared<ReplayOptions>();
    add_replay_options(*command, *options);
    command->callback([options, &outcome] { outcome = replay_all(*options); });
}

}  // namespace tripline::cli
