#include "daemon/station/check.h"

#include <stdexcept>
#include <string>

namespace tripline::station {

namespace {

void require(bool good, const char* what) {
    if (!good) throw std::invalid_argument(std::string{"station settings: "} + what);
}

void check(const StepSettings& step, const char* what) {
    const auto within = [](Duration time) { return time >= 0ms && time <= longest_step; };
    require(within(step.lead) && within(step.lag), what);
}

void check(const TransmitAudioSettings& audio, Duration hold) {
    require(audio.look_ahead >= 0ms && audio.look_ahead <= 500ms, "look-ahead must be 0 to 500 ms");
    require(audio.look_ahead <= hold, "look-ahead above the hold would cut the end of each over");
    require(audio.gain.value >= -60 && audio.gain.value <= 60, "gain must be -60 to 60 dB");
    require(audio.limit.value >= -60 && audio.limit.value <= 0, "limit must be -60 to 0 dBFS");
}

}  // namespace

void check(const Settings& settings) {
    check(settings.sequence.mute, "lead and lag of mute must be 0 to 1 s");
    check(settings.sequence.antenna, "lead and lag of antenna must be 0 to 1 s");
    check(settings.sequence.ptt, "lead and lag of ptt must be 0 to 1 s");
    const Duration settle = settings.sequence.settle;
    require(settle >= 0ms && settle <= longest_step, "settle must be 0 to 1 s");
    const LimitSettings& limits = settings.limits;
    require(limits.longest_over >= 1s && limits.longest_over <= 3600s,
            "longest over must be 1 to 3600 s");
    require(limits.quiet_to_clear >= 0ms && limits.quiet_to_clear <= 60s,
            "quiet to clear must be 0 to 60 s");
    check(settings.transmit_audio, settings.detector.hold);
    require(settings.loudspeaker_fade >= 0ms && settings.loudspeaker_fade <= 200ms,
            "loudspeaker fade must be 0 to 200 ms");
    require(settings.start_mode == Mode::armed || settings.start_mode == Mode::safe,
            "start mode must be armed or safe");
}

}  // namespace tripline::station
