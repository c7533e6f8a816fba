// bench_tune [RECORDING] [LABELS] [SETTINGS]: one replay of a recording, and about so many settings
// of threshold and coupling through what `tripline tune` does; prints both and their ratio,
// at the recording's own rate and at 48 kHz. Default: the shipped recording, 1000 settings.
#include "daemon/replay/examine.h"
#include "daemon/tune/trial.h"
#include "tests/bench/sound_at.h"

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <exception>
#include <filesystem>
#include <functional>
#include <string>
#include <thread>

#include <unistd.h>

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

/// The recording at a rate, under its own name, as labels know it; gone when this is.
class At {
public:
    At(const std::filesystem::path& recording, int rate) : file_(folder_ / recording.filename()), rate_(rate) {
        std::filesystem::create_directories(folder_);
        bench::write_at(recording, rate, 0, file_);
    }
    ~At() { std::filesystem::remove_all(folder_); }
    At(const At&) = delete;
    At& operator=(const At&) = delete;

    replay::RecordingSource source() const { return {.file = file_}; }
    int rate() const { return rate_; }

private:
    std::filesystem::path folder_ = std::filesystem::temp_directory_path() / ("tripline-bench-" + std::to_string(::getpid()));
    std::filesystem::path file_;
    int rate_;
};

void compare(const At& recording, const replay::LabelSet& labels, const std::vector<station::Settings>& settings) {
    const auto source = recording.source();
    const unsigned workers = std::max(1U, std::thread::hardware_concurrency());
    const auto replay_once = [&] {
        replay::Recording sound(source);
        replay::examine(sound, source, {}, labels, {});
    };
    constexpr int times = 20;
    const Cost one = cost_of([&] { for (int i = 0; i < times; ++i) replay_once(); });
    const Cost all = cost_of([&] { tune::explore({source}, labels, settings, workers, {}); });
    std::printf("%d Hz, %zu settings on %u cores: one replay %.3f s, all %.3f s: %.1f replays by the clock, %.1f of processor time\n",
                recording.rate(), settings.size(), workers, one.wall / times, all.wall, times * all.wall / one.wall,
                times * all.processor / one.processor);
}

}  // namespace

int main(int argc, char** argv) {
    try {
        const std::filesystem::path recording = argc > 1 ? argv[1] : "testdata/evening.flac";
        const char* file = argc > 2 ? argv[2] : "testdata/evening.rttm";
        const replay::LabelSet labels{file, replay::read_labels(file)};
        const auto settings = some_settings(argc > 3 ? std::atoi(argv[3]) : 1000);
        for (const int rate : bench::rates_to_show(recording)) compare(At(recording, rate), labels, settings);
        return 0;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "bench_tune: %s\n", error.what());
        return 2;
    }
}
