// stray_report [N]: how often setup tells that somebody spoke over the receiver's take, in N made takes a cell, and of
// takes in which nobody did; by its method and by levels alone.
#include "daemon/setup/stray.h"
#include "daemon/setup/stray_by_level.h"
#include "tests/setup/spoken_over.h"

#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>

namespace tripline::setup {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr Duration told_from = 200ms;   // as in take.cpp

class Report {
public:
    explicit Report(int takes) : takes_(takes) {}

    void spoken_over() {
        std::puts("Told of a voice over the receiver, of takes of 20 s (by levels alone)\n");
        std::puts("| voice to leak, dB | 20 % of the take | 50 % | 80 % | 95 % |\n| ---: | ---: | ---: | ---: | ---: |");
        for (const double talker : {-10.0, -5.0, 0.0, 5.0, 10.0}) {
            std::printf("| %+.0f |", talker);
            for (const double share : {0.2, 0.5, 0.8, 0.95}) cell({.talker_db = talker, .share = share});
            std::puts("");
        }
    }

    void clean() {
        std::puts("\nTold of a voice that was not there, and the longest stray sound\n");
        std::puts("| leak to a voice, dB | one clock | loudspeaker bent | room 14 dB louder | gain swings 6 dB | clocks 3-200 ppm apart |\n"
                  "| ---: | ---: | ---: | ---: | ---: | ---: |");
        for (const double leak : {-40.0, -20.0, -12.0, -6.0, 0.0, 6.0}) {
            std::printf("| %+.0f |", leak);
            only_leak({.leak_db = leak});
            only_leak({.leak_db = leak, .drive = 1});
            only_leak({.leak_db = leak, .room_db = -20});
            only_leak({.leak_db = leak, .swing_db = 6});
            only_leak({.leak_db = leak, .apart_ppm = 1});
            std::puts("");
        }
    }

private:
    SpokenOver somewhere(SpokenOver known) {
        known.seed = ++seed_;
        known.way = 1ms * random_.index(201);
        known.echo = 1ms * (200 + 100 * random_.index(5));
        constexpr std::array squelch{-70.0, -30.0, -10.0};
        known.squelch_db = squelch[random_.index(3)];
        return known;
    }

    struct Found {
        Duration now;
        Duration by_level;
    };
    Found look_at(const SpokenOver& known) {
        const auto frames = take_of(known, corpus_);
        const Dbfs room = room_of(known, corpus_);
        return {stray_sound(frames, corpus_.rate(), room), stray_by_level(frames, corpus_.rate(), room)};
    }

    void cell(const SpokenOver& asked) {
        int told = 0, by_level = 0;
        for (int i = 0; i < takes_; ++i) {
            SpokenOver known = somewhere(asked);
            constexpr std::array leaks{-20.0, -12.0, -6.0, 0.0, 6.0};
            known.leak_db = leaks[static_cast<std::size_t>(i) % leaks.size()];
            known.drive = 0.5 * static_cast<double>(random_.index(3));
            const Found found = look_at(known);
            told += found.now > told_from;
            by_level += found.by_level > told_from;
        }
        std::printf(" %d of %d (%d) |", told, takes_, by_level);
        std::fflush(stdout);
    }

    void only_leak(const SpokenOver& asked) {
        int told = 0;
        Duration longest{};
        for (int i = 0; i < takes_; ++i) {
            SpokenOver known = somewhere(asked);
            if (asked.apart_ppm != 0) known.apart_ppm = (i % 2 == 0 ? 1 : -1) * std::pow(10, random_.between(0.5, 2.3));
            if (asked.drive == 0) known.drive = 0.5 * static_cast<double>(random_.index(2));
            const Duration found = look_at(known).now;
            told += found > told_from;
            longest = std::max(longest, found);
        }
        std::printf(" %d of %d, %.2f s |", told, takes_, std::chrono::duration<double>(longest).count());
        std::fflush(stdout);
    }

    int takes_;
    std::uint64_t seed_ = 0;
    scene::Random random_{17};
    scene::Corpus corpus_{Hertz{16000}};
};

}  // namespace
}  // namespace tripline::setup

int main(int argc, char** argv) {
    tripline::setup::Report report(argc > 1 ? std::atoi(argv[1]) : 10);
    report.spoken_over();
    report.clean();
}
