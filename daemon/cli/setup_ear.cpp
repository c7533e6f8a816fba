#include "daemon/cli/setup_ear.h"

#include <chrono>
#include <cstdlib>
#include <iostream>
#include <stdexcept>
#include <thread>

namespace tripline::cli {
namespace {

using Clock = std::chrono::steady_clock;
using service::AudioKeeper;
using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr Duration look_again = 100ms;
constexpr Duration patience = 2s;   // for the next sound

Duration now() { return Clock::now().time_since_epoch(); }

config::Settings safe(config::Settings settings) {
    settings.station.start_mode = station::Mode::safe;
    return settings;
}

}  // namespace

SetupEar::SetupEar(const service::Options& request) {
    keeper_.tell([this](std::span<const setup::Frame> frames) { take(frames); });
    keeper_.open(service::opener(request, pulse_), safe(request.settings), request.record_to, now());
    wait_while(AudioKeeper::Condition::opening);
    if (keeper_.condition() != AudioKeeper::Condition::open) throw std::runtime_error(keeper_.failure());
    rate_ = keeper_.source().rate();
}

SetupEar::~SetupEar() {
    if (keeper_.condition() != AudioKeeper::Condition::open) return;
    keeper_.close(now());
    wait_while(AudioKeeper::Condition::closing);
}

/// A sound system that hangs would hold whoever waits for it: the program ends instead.
void SetupEar::wait_while(AudioKeeper::Condition condition) {
    while (keeper_.condition() == condition) {
        keeper_.poll(now());
        if (keeper_.hung(now())) {
            std::cerr << "tripline: the sound system does not answer\n" << std::flush;
            std::_Exit(2);
        }
        std::this_thread::sleep_for(20ms);
    }
}

void SetupEar::close() {
    keeper_.close(now());
    wait_while(AudioKeeper::Condition::closing);
    if (pulse_.samples_lost.load() > 0) throw std::runtime_error("samples were lost while recording: the machine is too busy");
}

void SetupEar::take(std::span<const setup::Frame> frames) {
    const std::scoped_lock lock(mutex_);
    heard_ += Frames{static_cast<std::int64_t>(frames.size())};
    if (wanted_) taken_.insert(taken_.end(), frames.begin(), frames.end());
}

setup::Take SetupEar::listen(Duration length, const std::function<void(std::span<const setup::Frame>)>& meter) {
    const auto whole = static_cast<std::size_t>(to_frames(length, rate_).count);
    setup::Take taking;
    {
        const std::scoped_lock lock(mutex_);
        taken_.clear();
        taking.begin = heard_;
        wanted_ = true;
    }
    for (Duration last = now(); taking.frames.size() < whole;) {
        std::this_thread::sleep_for(look_again);
        const bool ended = keeper_.source().ended();   // before the look: what came until then is there
        std::vector<setup::Frame> fresh;
        {
            const std::scoped_lock lock(mutex_);
            fresh.swap(taken_);
        }
        if (!fresh.empty()) {
            last = now();
            meter(fresh);
            taking.frames.insert(taking.frames.end(), fresh.begin(), fresh.end());
        } else if (ended || now() - last > patience) {
            throw std::runtime_error(ended ? "the sound has ended" : "no sound comes any more");
        }
    }
    const std::scoped_lock lock(mutex_);
    wanted_ = false;
    taking.frames.resize(whole);
    return taking;
}

}  // namespace tripline::cli
