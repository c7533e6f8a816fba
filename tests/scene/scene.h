// A room with a microphone, a loudspeaker and a receiver, sample by sample.
#pragma once

#include "tests/scene/radio.h"
#include "tests/scene/relays.h"
#include "tests/scene/room.h"
#include "tests/scene/script.h"
#include "tests/scene/source.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace tripline::scene {

struct SceneSettings {
    std::uint64_t seed = 1;
    AlternatingSettings script;
    bool conversation = false; ///< both may talk at once, see converse(); else overs in turn
    Decibels leak{-12};        ///< far speech at the microphone, relative to the operator's voice
    PathSettings path;         ///< receiver output to microphone
    RadioSettings radio;
    Decibels room{-30};        ///< pink noise of the room in the voice band, relative to the voice
    std::string noise;         ///< a further source by name, see make_source(); empty: none
    Decibels noise_level{-15}; ///< its active level in the voice band, relative to the voice
    std::optional<Dbfs> relays;///< peaks of the station's own relays at the microphone; none: not to be heard
    bool noise_by_peak = false;///< noise_level compares the peaks of noise and voice instead
};

struct Sample {
    float microphone = 0;
    float receiver = 0;
};

/// Yields the two channels while it is told whether the station is keyed: a keyed
/// station mutes its receiver, so both the receiver channel and its leak fall silent.
class Scene {
public:
    /// A script of alternating overs.
    Scene(const SceneSettings& settings, Corpus& corpus);
    Scene(const SceneSettings& settings, Script script, Corpus& corpus);

    Frames length() const { return script_.length; }
    const Script& script() const { return script_; }

    /// The next frame; the receiver is muted or opened without a step, over 5 ms.
    Sample next(bool keyed);
    /// The coil of a relay is switched; of Relays::count.
    void move(std::size_t relay) {
        if (relays_) relays_->move(relay);
    }

private:
    /// Plays a list of lines.
    class Voice {
    public:
        explicit Voice(const std::vector<Line>& lines) : lines_(lines) {}
        float at(Frames now);

    private:
        const std::vector<Line>& lines_;
        std::size_t first_ = 0;
    };
    /// A named source with its gain.
    struct Sound {
        std::unique_ptr<Source> source;
        float gain = 1;
        float next() { return gain * source->next(); }
    };

    float receive(bool keyed);

    Random random_;
    Script script_;
    Voice near_;
    Voice far_;
    Voice sounds_;
    Radio radio_;
    Path path_;
    std::vector<Sound> room_;
    std::optional<Relays> relays_;
    float leak_gain_;
    float mute_step_;
    float opening_ = 1;               ///< 0 muted, 1 open
    Frames now_;
};

/// The station an open-loop recording is made with: muted from 20 ms after each
/// labelled over begins until a little more than the hang time after it has ended: a
/// real one's hang time begins when its detector has lost the voice, not at the label.
class IdealStation {
public:
    IdealStation(const std::vector<Spurt>& near, Duration hold, Hertz rate);
    /// Ask in rising order of time.
    bool keyed(Frames now);

private:
    std::vector<Spurt> overs_;
    Hertz rate_;
    std::size_t at_ = 0;
};

}  // namespace tripline::scene
