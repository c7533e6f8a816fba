// Takes of a receiver that somebody may speak over, of which everything is known.
#pragma once

#include "daemon/audio/frame.h"
#include "tests/scene/scene.h"

namespace tripline::setup {

struct SpokenOver {
    std::uint64_t seed = 1;
    double leak_db = -6;       ///< at the microphone, relative to a voice of -28 dBFS
    double talker_db = 0;      ///< who speaks over it, relative to the leak
    double share = 0;          ///< of the take, in one piece
    Duration echo{0};          ///< of the room, RT60
    Duration way{0};
    double drive = 0;          ///< of the loudspeaker
    double room_db = -34;      ///< relative to the voice of -28 dBFS
    double squelch_db = -70;   ///< the receiver's own noise, relative to its voice
    double apart_ppm = 0;      ///< of the two clocks
    double swing_db = 0;       ///< of the microphone's gain, up and down within 5 s
    Duration length = std::chrono::seconds{20};
};

std::vector<audio::Frame> take_of(const SpokenOver& known, scene::Corpus& corpus);
/// The microphone with nobody speaking, in the voice band.
Dbfs room_of(const SpokenOver& known, scene::Corpus& corpus);

}  // namespace tripline::setup
