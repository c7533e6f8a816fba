// Who says what and when.
#pragma once

#include "tests/scene/corpus.h"
#include "tests/scene/random.h"

#include <vector>

namespace tripline::scene {

using std::chrono_literals::operator""s;

struct Range {
    Duration least;
    Duration most;
};

/// One recording spoken at a moment.
struct Line {
    Frames start;
    const Clip* clip = nullptr;
    float gain = 1;   ///< brings the clip to the talker's active level
};

struct Script {
    std::vector<Line> near;   ///< the operator, in order of start
    std::vector<Line> far;    ///< the other station, in order of start
    std::vector<Line> room;   ///< single sounds at the microphone, in order of start
    Frames length;
};

/// Levels are active levels as ITU-T P.56 measures them.
struct AlternatingSettings {
    Duration length = 120s;
    Dbfs near_level{-26};
    Dbfs far_level{-26};
    Range over{3s, 10s};          ///< an over's length; whole recordings, so roughly
    Range pause{150ms, 600ms};    ///< between the recordings of an over
    Range far_answers{2500ms, 4s};///< from the operator's last word; longer than the hang time
    Range near_answers{700ms, 2s};
    bool near_speaks = true;
    bool far_speaks = true;
};

/// Overs of the operator and of the other station in turn, never at once. Each over
/// has one talker, chosen at random, never the same on both sides in succession.
/// Throws std::runtime_error when none of the speech packages is installed.
Script alternate(const AlternatingSettings& settings, Corpus& corpus, Random& random);

/// Both talk as the conversation model of ITU-T P.59 has it, at times at once. Each of its
/// spurts is a recording of about its length by the one talker of each side. Of the
/// settings the length, levels and who speaks count. Throws as alternate() does.
Script converse(const AlternatingSettings& settings, Corpus& corpus, Random& random);

/// Where the talker of these lines speaks: the labels, joined across gaps up to 200 ms.
std::vector<Spurt> spurts_of(const std::vector<Line>& lines, Hertz rate);

}  // namespace tripline::scene
