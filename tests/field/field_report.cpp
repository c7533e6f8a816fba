// field_report: the figures of the main job as a table, on scenes of recorded speech with
// the station in the loop.
#include "tests/field/bench.h"
#include "tests/field/table.h"

#include <CLI/CLI.hpp>

#include <iostream>

namespace {

using namespace tripline;

struct Options {
    double rate_hz = 48000;
    std::uint64_t seed = 1;
    double share = 1;
    unsigned threads = 2;
    std::string only;
};

void report(const Options& options) {
    scene::Corpus corpus(Hertz{options.rate_hz});
    std::cout << "seeds from " << options.seed << ", " << options.rate_hz << " Hz\n\n"
              << field::table_head() << std::flush;
    std::string below;
    for (field::Row row : field::main_rows()) {
        if (row.name.find(options.only) == std::string::npos) continue;
        row.length = Duration{static_cast<Duration::rep>(static_cast<double>(row.length.count()) * options.share)};
        const auto outcome = field::run_row(row, options.seed, corpus, options.threads);
        std::cout << field::table_line(row.name, outcome) << std::flush;
        const auto missing = field::shortfall(row, outcome);
        if (!missing.empty()) below += "\n" + row.name + ": not reached: " + missing + "\n";
        if (row.target.onset_p95_ms) below += "\n" + row.name + ":\n\n" + field::onset_table(outcome);
    }
    std::cout << below;
}

}  // namespace

int main(int argc, char** argv) {
    CLI::App app("The figures of the main job, measured");
    Options options;
    app.add_option("--rate", options.rate_hz, "Sample rate in Hz")->capture_default_str();
    app.add_option("--seed", options.seed, "First seed; each scene of five minutes has the next")
        ->capture_default_str();
    app.add_option("--share", options.share, "Part of each row's length")->capture_default_str();
    app.add_option("--threads", options.threads)->capture_default_str();
    app.add_option("--only", options.only, "Rows whose name has this in it");
    CLI11_PARSE(app, argc, argv);
    try {
        report(options);
    } catch (const std::exception& error) {
        std::cerr << "field_report: " << error.what() << '\n';
        return 2;
    }
    return 0;
}
