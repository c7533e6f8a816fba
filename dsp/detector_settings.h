// Adjustments of the detector, with the defaults that ship.
#pragma once

#include "dsp/units.h"

namespace tripline::dsp {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""us;

/// How the opening threshold is set.
enum class Threshold : unsigned char {
    fixed,     ///< at open
    floating,  ///< above the tracked noise floor, never under open
};

/// How the receiver's sound is told from the operator's.
enum class AntiTrip : unsigned char {
    envelope,  ///< its expected power is subtracted
    echo,      ///< its sound is modelled and subtracted, then the power of what may be left
};

struct VoiceBandSettings {
    Hertz low{300};
    Hertz high{3000};
    bool operator==(const VoiceBandSettings&) const = default;
};

struct EnvelopeSettings {
    Duration attack = 2ms;    ///< 1/e time constant of the power detector
    Duration release = 20ms;  ///< 1/e time constant of the power detector
    bool operator==(const EnvelopeSettings&) const = default;
};

/// Anti-trip: how much of the receiver is expected at the microphone.
struct LeakSettings {
    bool enabled = true;
    AntiTrip method = AntiTrip::envelope;
    Decibels coupling{6};     ///< microphone level less receiver level; the highest when learnt
    bool learn = true;        ///< learn the coupling while only the receiver is heard
    Decibels margin{1};       ///< raised by this over what was learnt
    Duration delay = 0ms;     ///< shortest path, monitor input to microphone
    Duration decay = 120ms;   ///< fall of the predicted leak by 1/e in power (room, buffers)
    bool muted_on_air = true; ///< the loudspeaker is silent while the station transmits
    bool operator==(const LeakSettings&) const = default;
};

struct GateSettings {
    Threshold threshold = Threshold::floating;
    Dbfs open{-50};           ///< fixed threshold, or the lowest a floating one goes
    Decibels above_floor{9};  ///< floating: opens this far above the floor
    Decibels hysteresis{4};   ///< closes this far under the opening threshold
    Duration qualify = 8ms;   ///< shorter sounds are clicks
    bool operator==(const GateSettings&) const = default;
};

/// A voice stays near its peak, a click falls from it at once.
struct OnsetSettings {
    Duration qualify_sudden = 60ms;  ///< a sudden sound must last this long near its peak
    Decibels sudden{16};             ///< a rise by this much
    Duration rise = 4ms;             ///< within this time is sudden
    Decibels near{6};                ///< this far under its peak is near it
    Duration pitched = 5ms;          ///< after this long,
    Duration pitched_alone = 3ms;    ///< or this if the receiver's sound was taken out of it:
    double voiced = 0.68;            ///< a sound this periodic at a voice's pitch is a voice,
    double voiced_wary = 0.9;        ///< or this much when the room is full of other sounds,
    Duration pitched_wary = 4ms;     ///< for this long: a crowd reaches 0.9 for 2 ms
    Duration sung = 10ms;            ///< or, for this long, whatever its power does between the pulses
    double voiced_near = 0.68;       ///< where less will do, this much,
    double base_near = 0.32;         ///< by as much over this
    double clear_near = 0.8;         ///< as this much, or more,
    Duration sung_near = 24ms;       ///< is in this long, if it is
    Decibels near_voice{6};          ///< no further than this under the operator's own peaks, once he was heard
    bool operator==(const OnsetSettings&) const = default;
};

/// Sounds of the room that are not the operator: talk, steps, keys.
struct ClutterSettings {
    bool enabled = true;
    Decibels margin{6};              ///< the gate opens this far above the loudest recent one,
    Decibels ceiling{32};            ///< but never further than this above the floor,
    Decibels under_voice{6};         ///< and at least this far under the operator's own peaks
    Decibels wary{7};                ///< clutter this far above the floor: sounds must show pitch
    double fade_db_per_s = 0.3;      ///< how fast it is forgotten
    double settle_db_per_s = 3.0;    ///< how fast the caution at the start fades
    Dbfs voice_peak{-18};            ///< the operator's peaks, until they have been heard,
    Decibels voice_over_floor{34};   ///< but no further than this above the floor
    Dbfs voice_least{-32};           ///< or this, or
    Decibels voice_over_leak{8};     ///< this above the receiver's peaks at the microphone
    bool operator==(const ClutterSettings&) const = default;
};

/// Marks of speech in a spell of keying.
struct SpellSettings {
    double voiced = 0.7;             ///< periodicity, 0 to 1, that counts as pitch
    Duration proof = 30ms;           ///< pitch for this long in all proves a voice
    Duration prove_within = 400ms;   ///< else the spell ends after this time
    double clear = 0.9;              ///< periodicity of a single voice
    Duration clear_proof = 100ms;    ///< for this long in all: its level is the operator's
    Duration steady = 2500ms;        ///< a level sound ends the spell after this time
    Decibels ripple{3};              ///< within this much is level
    bool operator==(const SpellSettings&) const = default;
};

/// Others hold the key when nothing near the operator's own level was heard
struct LullSettings {
    Duration lasts = 2000ms;         ///< for this long;
    Duration tail = 1000ms;          ///< what he said last and its echo are over after this
    bool operator==(const LullSettings&) const = default;
};

/// A sound that keeps its level as no voice does. The longest such stretches in 50 minutes of
/// recorded speech (the corpus in tests/scene without its tones and silences) are 134 ms (the
/// mains periods) and 490 ms (drone).
struct SteadySettings {
    Decibels ripple;                 ///< within this much
    Duration lasts;                  ///< for this long,
    Duration window;                 ///< as a mean over so long
    bool operator==(const SteadySettings&) const = default;
};

/// A voice's pitch under 900 Hz, where many words begin.
struct MurmurSettings {
    bool enabled = true;
    Decibels above_floor{9};         ///< this far above the floor of its own band,
    Decibels under_voice{18};        ///< at most this far under the operator's peaks,
    double base = 0.9;               ///< more periodic than this,
    double clear = 0.97;             ///< as much in all as this periodic
    Duration lasts = 5ms;            ///< for this long
    bool operator==(const MurmurSettings&) const = default;
};

/// A voice behind closed lips, before b, d and g.
struct VoiceBarSettings {
    Decibels under_voice{28};        ///< at most this far under the operator's peaks,
    Decibels darker{6};              ///< this far over what the voice band hears of it,
    double base = 0.85;              ///< more periodic than this,
    double clear = 0.95;             ///< as much in all as this periodic
    Duration lasts = 8ms;            ///< for this long
    bool operator==(const VoiceBarSettings&) const = default;
};

/// What tells a voice from other sounds. Found on recorded speech and noises; not meant
/// to be adjusted by an operator, so no key of the configuration leads here.
struct EvidenceSettings {
    OnsetSettings onset;
    ClutterSettings clutter;
    SpellSettings spell;
    LullSettings lull;
    MurmurSettings murmur;
    VoiceBarSettings voice_bar;
    SteadySettings hum_50{Decibels{0.5}, 180ms, 20ms};      ///< tones, and hum of 50 Hz mains
    SteadySettings hum_60{Decibels{0.5}, 180ms, 16'667us};  ///< tones, and hum of 60 Hz mains
    SteadySettings drone{Decibels{1.5}, 1000ms, 100ms};
    bool operator==(const EvidenceSettings&) const = default;
};

struct BlankingSettings {
    Duration relay = 30ms;    ///< after the station's own relays move
    Duration unmute = 150ms;  ///< after the receiver is unmuted
    bool operator==(const BlankingSettings&) const = default;
};

struct DetectorSettings {
    VoiceBandSettings band;
    EnvelopeSettings envelope;
    LeakSettings leak;
    GateSettings gate;
    EvidenceSettings evidence;
    Duration hold = 1500ms;   ///< hang time, retriggerable; 1-3 s in practice
    BlankingSettings blanking;
    bool operator==(const DetectorSettings&) const = default;
};

}  // namespace tripline::dsp
