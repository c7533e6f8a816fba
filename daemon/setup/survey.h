// What was measured at the station.
#pragma once

#include "config/settings.h"
#include "daemon/replay/recording.h"
#include "daemon/replay/span.h"

#include <functional>
#include <optional>

namespace tripline::setup {

/// When in the recording what is heard.
struct Stretches {
    replay::Span room;                   ///< nobody speaks, the receiver is silent
    std::optional<replay::Span> receiver;   ///< only the receiver speaks; none: the station has no receiver audio
    replay::Span voice;                  ///< only the operator speaks, as on the air
    std::optional<replay::Span> soft;    ///< and as softly as ever
};

/// Levels are in the voice band but where another is said.
struct Survey {
    Dbfs room{-200};                  ///< the microphone, with nobody speaking
    Dbfs receiver{-200};              ///< its mean level while it speaks; leak and coupling as -200: there is none
    Dbfs leak{-200};                  ///< of it at the microphone, the room's noise taken off
    Decibels coupling{-200};          ///< leak less receiver
    std::optional<Duration> delay;    ///< receiver input to microphone; none: not heard
    Dbfs voice{-200};                 ///< active level by ITU-T P.56, of the whole sound
    Dbfs voice_in_band{-200};         ///< the same in the voice band
    std::optional<Dbfs> soft_in_band; ///< of the soft voice
};

/// Throws std::runtime_error for a stretch that is shorter than 3 s or not within the recording,
/// and as Recording does.
void check(const replay::RecordingSource& source, const Stretches& stretches);

/// Reads the recording once. Throws as check(), and as Recording does. `progress` may be empty.
Survey survey(const replay::RecordingSource& source, const Stretches& stretches, const dsp::VoiceBandSettings& band,
              const std::function<void(double share)>& progress);

}  // namespace tripline::setup
