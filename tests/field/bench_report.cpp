// bench_report: the loud loudspeaker, ours and references on the same scenes, as a table.
// A reference is tried with each of its adjustments on the row's first scene and shown with
// the best of them by detection cost; ours has the shipped settings throughout.
#include "tests/field/bench.h"
#include "tests/field/references.h"
#include "tests/field/table.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <iostream>

namespace {

using namespace tripline;

/// The rate the reference libraries work at.
constexpr Hertz rate{16000};
constexpr double peaks_over_voice_db = 8;   // as in daemon/setup/advice.cpp

struct Options {
    std::uint64_t seed = 1;
    double minutes = 30;
    unsigned threads = 2;
    bool ours_only = false;
    bool echo = false;
    bool measured = false;
    std::string only;
};

field::MakeKeyer keyer_of(const field::Reference& reference, const field::Adjustment& adjustment, Dbfs voice) {
    return [=](Hertz at) {
        return std::make_unique<field::StationKeyer>(reference.make(adjustment, voice, at), at);
    };
}

field::Adjustment best_of(const field::Reference& reference, const scene::SceneSettings& scene,
                          scene::Corpus& corpus, unsigned threads) {
    std::vector<field::Job> jobs;
    for (const auto& adjustment : reference.adjustments) {
        jobs.push_back({scene, keyer_of(reference, adjustment, scene.script.near_level)});
    }
    const auto outcomes = field::run_jobs(jobs, corpus, threads);
    const auto best = std::ranges::min_element(
        outcomes, {}, [](const field::Outcome& o) { return o.score.detection.cost(); });
    return reference.adjustments[static_cast<std::size_t>(best - outcomes.begin())];
}

void compare(const field::Row& row, const Options& options, scene::Corpus& corpus) {
    const auto scenes = field::scenes_of(row, options.seed);
    const auto& s = scenes.front();
    const Decibels coupling{s.script.near_level.value + s.leak.value - s.script.far_level.value};
    for (const auto& reference : field::references(coupling)) {
        const auto best = best_of(reference, s, corpus, options.threads);
        const auto make = keyer_of(reference, best, s.script.near_level);
        const auto outcome = field::run_all(scenes, make, corpus, options.threads);
        std::cout << field::table_line("&nbsp; " + reference.name + " (" + best.text + ")", outcome)
                  << std::flush;
    }
}

void report(const Options& options) {
    scene::Corpus corpus(rate);
    std::cout << "seeds from " << options.seed << ", " << options.minutes << " min a row, " << rate.value
              << " Hz\n\n"
              << field::table_head() << std::flush;
    std::string below;
    for (field::Row row : field::loud_rows()) {
        if (row.name.find(options.only) == std::string::npos) continue;
        row.length = Duration{static_cast<Duration::rep>(options.minutes * 60e9)};
        if (options.echo) row.station.detector.leak.method = dsp::AntiTrip::echo;
        if (options.measured) row.station.detector.evidence.clutter.voice_peak = Dbfs{row.scene.script.near_level.value + peaks_over_voice_db};
        const auto outcome = field::run_row(row, options.seed, corpus, options.threads);
        std::cout << field::table_line("**" + row.name + "**: ours", outcome) << std::flush;
        const auto missing = field::shortfall(row, outcome);
        if (!missing.empty()) below += row.name + ": not reached: " + missing + "\n";
        if (!options.ours_only) compare(row, options, corpus);
    }
    std::cout << '\n' << below;
}

}  // namespace

int main(int argc, char** argv) {
    CLI::App app("Ours and references on scenes with a loud loudspeaker");
    Options options;
    app.add_option("--seed", options.seed, "First seed; each scene of five minutes has the next")
        ->capture_default_str();
    app.add_option("--minutes", options.minutes, "Length of each row")->capture_default_str();
    app.add_option("--threads", options.threads)->capture_default_str();
    app.add_flag("--ours-only", options.ours_only, "Leave the references out");
    app.add_flag("--echo", options.echo, "Ours with the echo method, the rest as shipped");
    app.add_flag("--measured", options.measured, "Ours with the voice's peaks as tripline setup would measure them");
    app.add_option("--only", options.only, "Rows whose name has this in it");
    CLI11_PARSE(app, argc, argv);
    try {
        report(options);
    } catch (const std::exception& error) {
        std::cerr << "bench_report: " << error.what() << '\n';
        return 2;
    }
    return 0;
}
