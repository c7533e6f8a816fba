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
    /// Throws as station::Engine does. `workers`: into how many parts to cut what is alike.
    Audience(const std::vector<station::Settings>& settings, Hertz rate, unsigned workers);
    ~Audience();

    /// Each ear hears each page once, then each part judges it; different ears and different
    /// parts from any thread.
    std::size_t ears() const;
    void hear(std::size_t ear, const Page& page);
    std::size_t parts() const;
    void judge(std::size_t part, const Page& page);
    /// The recording is over.
    void close(Frames end);

    /// Of the setting of that place.
    const std::vector<replay::Spell>& spells(std::size_t setting) const;

private:
    class Ear;
    class Loner;
    struct Kin;
    struct Part {
        Flock flock;
        std::size_t ear;
    };

    void add_kin(const std::vector<station::Settings>& settings, const Kin& kin, Hertz rate, unsigned workers);
    std::size_t ear_for(const dsp::DetectorSettings& settings, Hertz rate);

    std::vector<std::unique_ptr<Ear>> ears_;
    std::vector<std::unique_ptr<Part>> flocks_;
    std::vector<std::unique_ptr<Loner>> loners_;
    std::vector<const std::vector<replay::Spell>*> spells_;
};

}  // namespace tripline::tune
