// All settings that listen to one recording, and what they share.
#pragma once

#include "daemon/replay/recording.h"
#include "daemon/tune/flock.h"

#include <memory>
#include <vector>

namespace tripline::tune {

/// Some seconds of a recording.
struct Page {
    std::vector<float> microphone;
    std::vector<float> receiver;   ///< empty: none
    Frames length() const { return {static_cast<std::int64_t>(microphone.size())}; }
};

/// The next page; empty at the end. Throws as Recording::next() does.
Page read_page(replay::Recording& recording);

/// Filters, envelopes and pitch are computed by one ear for all settings of the same voice band
/// and envelope, and decided on by flocks. A setting with the echo method has an engine alone,
/// since what its model makes of the sound depends on what it has decided.
class Audience {
public:
    using Speech = std::optional<replay::Spans>;

    /// Throws as station::Engine does. `workers`: threads to share the work. With `speech`, the
    /// operator's, each setting is given up at its first mistake.
    Audience(const std::vector<station::Settings>& settings, Hertz rate, unsigned workers,
             const Speech& speech = std::nullopt);
    ~Audience();

    /// What each ear hears.
    using Sounds = std::vector<std::vector<dsp::Sounds>>;
    /// Of one page after the other; a page may be heard while the one before is judged.
    Sounds hear(const Page& page);
    void judge(const Page& page, const Sounds& heard);
    /// Whether every setting was given up.
    bool done() const;
    /// The recording is over.
    void close(Frames end);

    /// Of the setting of that place.
    const std::vector<replay::Spell>& spells(std::size_t setting) const;
    /// The mistake that a setting was given up for, if it was; its spells then end there.
    const std::optional<replay::MistakeKind>& given_up(std::size_t setting) const;

private:
    class Ear;
    class Loner;
    struct Kin;
    struct Part {
        Flock flock;
        std::size_t ear;
    };
    struct Outcome {
        const std::vector<replay::Spell>* spells;
        const std::optional<replay::MistakeKind>* given_up;
    };

    void add_loner(std::size_t setting, const station::Settings& settings, Hertz rate, const Speech& speech);
    void add_kin(const std::vector<station::Settings>& settings, const Kin& kin, Hertz rate, const Speech& speech);
    std::size_t ear_for(const dsp::DetectorSettings& settings, Hertz rate);

    std::vector<std::unique_ptr<Ear>> ears_;
    std::vector<std::unique_ptr<Part>> flocks_;
    std::vector<std::unique_ptr<Loner>> loners_;
    unsigned workers_;
    std::vector<Outcome> outcomes_;   // of each setting, kept by its flock or loner
};

}  // namespace tripline::tune
