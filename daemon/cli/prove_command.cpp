// prove
#include "daemon/cli/channel_note.h"
#include "daemon/cli/commands.h"
#include "daemon/cli/config_options.h"
#include "daemon/cli/progress.h"
#include "daemon/cli/write_file.h"
#include "daemon/prove/junit.h"
#include "daemon/prove/run.h"
#include "daemon/prove/suite.h"
#include "daemon/prove/table.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <chrono>
#include <iostream>
#include <memory>
#include <thread>

namespace tripline::cli {
namespace {

struct ProveOptions {
    std::string folder;
    std::string junit;           ///< empty: not written
    std::string baseline;        ///< empty: nothing to compare with
    std::string write_baseline;  ///< empty: not written
    unsigned jobs = 0;           ///< 0: as many as cores
    ConfigOptions config;

    unsigned workers() const { return jobs > 0 ? jobs : std::max(1U, std::thread::hardware_concurrency()); }
};

ExitCode outcome_of(const prove::Verdicts& verdicts, const std::vector<prove::Change>& changes) {
    if (!std::ranges::all_of(verdicts, &prove::Verdict::judged)) return ExitCode::refused;
    const bool kept = std::ranges::all_of(verdicts, &prove::Verdict::met) &&
                      std::ranges::all_of(changes, &prove::Change::allowed);
    return kept ? ExitCode::good : ExitCode::limits_not_met;
}

constexpr Duration looked_at = std::chrono::minutes{5};   // of a recording that broke a limit

/// Notes of tables in prove.toml: one that several have is told once, with their names.
class TableNotes {
public:
    void add(const std::string& table, const std::string& text) {
        if (text.empty()) return;
        const auto found = std::ranges::find(notes_, text, &Note::text);
        if (found != notes_.end()) found->tables += ", [" + table + "]";
        else notes_.push_back({"[" + table + "]", text});
    }
    void tell() const {
        for (const Note& one : notes_) note(one.tables + ": " + one.text);
    }

private:
    struct Note {
        std::string tables;
        std::string text;
    };
    std::vector<Note> notes_;
};

void note_labels_elsewhere(const std::vector<prove::Item>& items) {
    TableNotes notes;
    for (const prove::Item& item : items) notes.add(item.name, replay::labels_elsewhere(item.labels, item.source));
    notes.tell();
}

/// Only of what broke a limit: to look at a recording takes about as long as to replay it.
void note_channels(const std::vector<prove::Item>& items, const prove::Verdicts& verdicts) {
    TableNotes notes;
    for (std::size_t i = 0; i < items.size(); ++i)
        if (verdicts[i].judged() && !verdicts[i].met()) notes.add(items[i].name, channel_note(items[i].source, looked_at));
    notes.tell();
}

ExitCode prove_folder(const ProveOptions& options) {
    const auto loaded = load_or_tell(options.config);
    if (!loaded) return ExitCode::refused;
    const auto suite = prove::read_suite(options.folder, loaded->settings, options.config.overlays);
    tell(suite.problems);
    if (!suite.good()) return ExitCode::refused;
    const auto safe = std::ranges::find(suite.items, station::Mode::safe, [](const prove::Item& item) { return item.settings.start_mode; });
    if (safe != suite.items.end()) note_safe_start(safe->settings);
    note_labels_elsewhere(suite.items);
    const bool compared = !options.baseline.empty();
    const auto baseline = compared ? prove::read_baseline(options.baseline) : prove::Baseline{};

    prove::Verdicts verdicts;
    {
        Progress progress(options.folder);
        verdicts = prove::run(suite.items, options.workers(), [&](double share) { progress.show(share); });
    }
    const auto changes = compared ? prove::compare(baseline, verdicts) : std::vector<prove::Change>{};
    const auto outcome = outcome_of(verdicts, changes);
    note_channels(suite.items, verdicts);
    std::cout << prove::to_table(verdicts, changes);
    if (compared) std::cout << "compared with " << options.baseline << (changes.empty() ? ": nothing is worse or better\n" : ": what changed stands above\n");
    if (!options.junit.empty()) write_file(options.junit, prove::to_junit(verdicts, changes, compared));
    if (!options.write_baseline.empty() && outcome != ExitCode::refused) {
        write_file(options.write_baseline, prove::to_json(prove::baseline_of(verdicts)));
    }
    return outcome;
}

}  // namespace

void add_prove(CLI::App& program, ExitCode& outcome) {
    auto* command = program.add_subcommand("prove", "Replay a folder of recordings and check its limits");
    const auto options = std::make_shared<ProveOptions>();
    ProveOptions& o = *options;
    command->add_option("FOLDER", o.folder, "Folder with a prove.toml: recordings, labels, limits")->required();
    command->add_option("--junit", o.junit, "Write the outcome there as JUnit XML")->type_name("FILE");
    command->add_option("--baseline", o.baseline, "Nothing may be worse than in this earlier run")
        ->type_name("FILE");
    command->add_option("--write-baseline", o.write_baseline, "Keep the figures of this run there")
        ->type_name("FILE");
    command->add_option("-j,--jobs", o.jobs, "Recordings at a time; as many as cores unless given")
        ->check(CLI::Range(1U, 1024U))
        ->type_name("COUNT");
    add_config_options(*command, o.config);
    command->callback([options, &outcome] { outcome = prove_folder(*options); });
}

}  // namespace tripline::cli
