// Detectors to compare with, each with its one or two adjustments.
#pragma once

#include "tests/field/station_keyer.h"

#include <string>
#include <vector>

namespace tripline::field {

/// One adjustment of a reference. Levels are relative to the voice's active level, so that
/// the best one is not kept from the reference by the level of a scene.
struct Adjustment {
    double open_db = -15;      ///< opening threshold
    double coupling_db = -12;  ///< expected leak over the receiver's sound
    int likelihood = 0;        ///< of the WebRTC detector, 0 to 3
    int probability = 50;      ///< of the speexdsp detector, per cent
    std::string text;          ///< for the table
};

struct Reference {
    std::string name;
    std::vector<Adjustment> adjustments;   ///< to choose the best from
    std::unique_ptr<Listener> (*make)(const Adjustment& adjustment, Dbfs voice, Hertz rate);
};

/// Plain gate, envelope subtraction, the WebRTC detector, the speexdsp detector, and the
/// speexdsp canceller before a gate. `coupling` is the scene's true one: adjustments are
/// offered around it. Built without libwebrtc-audio-processing, its row is left out.
std::vector<Reference> references(Decibels coupling);

std::unique_ptr<Listener> make_gate(const Adjustment& adjustment, Dbfs voice, Hertz rate);
std::unique_ptr<Listener> make_subtraction(const Adjustment& adjustment, Dbfs voice, Hertz rate);
std::unique_ptr<Listener> make_webrtc(const Adjustment& adjustment, Dbfs voice, Hertz rate);
std::unique_ptr<Listener> make_speex_detector(const Adjustment& adjustment, Dbfs voice, Hertz rate);
std::unique_ptr<Listener> make_speex_canceller(const Adjustment& adjustment, Dbfs voice, Hertz rate);

}  // namespace tripline::field
