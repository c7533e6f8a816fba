// bench_tune [RECORDING] [LABELS] [SETTINGS]: one replay of a recording, and about so many settings
// of threshold and coupling through what `tripline tune` does; prints both and their ratio.
// Default: the shipped recording, 1000 settings.
#include "daemon/replay/examine.h"
#include "daemon/tune/trial.h"

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <exception>
#include <functional>
#include <thread>

namespace {

using namespace tripline;

struct Cost {
    double wall;
    double processor;   ///< of all threads
};

double seconds(clockid_t clock) {
    timespec now{};
    ::clock_gettime(clock, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

Cost cost_of(const std::function<void()>& work) {
    const double wall = seconds(CLOCK_MONOTONIC);
    const double processor = seconds(CLOCK_PROCESS_CPUTIME_ID);
    work();
    return {seconds(CLOCK_MONOTONIC) - wall, seconds(CLOCK_PROCESS_CPUTIME_ID) - processor};
}

/// As many thresholds as couplings, over the ranges that `tripline tune` maps by default.
std::vector<station::Settings> some_settings(int about) {
    const int side = static_cast<int>(std::ceil(std::sqrt(about)));
    std::vector<station::Settings> settings(static_cast<std::size_t>(side * side));
    for (int i = 0; i < side * side; ++i) {
        auto& detector = settings[static_cast<std::size_t>(i)].detector;
        detector.gate.open = {-64 + 44.0 * (i % side) / side};
        detector.leak.coupling = Decibels{-36 + 48.0 * (i / side) / side};
    }
    return settings;
}

}  // namespace

int main(int argc, char** argv) {
    try {
        const replay::RecordingSource source{.file = argc > 1 ? argv[1] : "testdata/evening.flac"};
        const char* file = argc > 2 ? argv[2] : "testdata/evening.rttm";
        const replay::LabelSet labels{file, replay::read_labels(file)};
        const auto settings = some_settings(argc > 3 ? std::atoi(argv[3]) : 1000);
        const unsigned workers = std::max(1U, std::thread::hardware_concurrency());
        const auto replay_once = [&] {
            replay::Recording recording(source);
            replay::examine(recording, source, {}, labels, {});
        };
        constexpr int times = 5;
        const Cost one = cost_of([&] { for (int i = 0; i < times; ++i) replay_once(); });
        const Cost all = cost_of([&] { tune::explore({source}, labels, settings, workers, {}); });
        std::printf("%zu settings on %u cores: one replay %.3f s, all %.3f s: %.1f replays by the clock, %.1f of processor time\n",
                    settings.size(), workers, one.wall / times, all.wall, times * all.wall / one.wall,
                    times * all.processor / one.processor);
        return 0;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "bench_tune: %s\n", error.what());
        return 2;
    }
}
