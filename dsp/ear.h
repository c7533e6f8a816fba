// What both inputs sound like, hop by hop: filters, envelopes, pitch and how they go on.
#pragma once

#include "dsp/balance.h"
#include "dsp/detector_settings.h"
#include "dsp/envelope.h"
#include "dsp/moving_average.h"
#include "dsp/pair.h"
#include "dsp/sounds.h"
#include "dsp/units.h"
#include "dsp/voice_band.h"
#include "dsp/voicing.h"

#include <algorithm>
#include <array>
#include <span>

namespace tripline::dsp {

/// Of some frames those from a place on, as many as there are of so many.
inline std::span<const float> stretch(std::span<const float> frames, std::size_t from, std::size_t count) noexcept {
    from = std::min(from, frames.size());
    return frames.subspan(from, std::min(count, frames.size() - from));
}

/// Hears and does not decide. Takes frames in blocks that may hold several hops, since most of
/// the work is done in fewer instructions for many frames at a time. What it hears does not
/// depend on the blocks. No heap after construction. Used by one thread at a time.
class Ear {
public:
    /// Throws std::invalid_argument for a rate outside 8 to 192 kHz. `pitch_rate`: of the samples that pitch is
    /// looked for in.
    Ear(const DetectorSettings& settings, Hertz rate, Hertz pitch_rate);
    Ear(const DetectorSettings& settings, Hertz rate) : Ear(settings, rate, rate) {}

    /// Frames in a hop, about a millisecond.
    static Frames hop_at(Hertz rate);
    /// Frames that the hop lacks which has begun.
    std::size_t left() const noexcept { return hop_ - frame_; }
    /// Frames of a block, at most.
    static constexpr std::size_t most = Voicing::most;

    /// A block; a missing receiver is silent. The sounds of each hop that ends in it, good until the next call.
    std::span<const Sounds> hear(std::span<const float> microphone, std::span<const float> receiver) noexcept {
        filter(microphone, receiver);
        voicing_.push(flat());
        return end_hops([this](std::size_t frames) { return voicing_.after(frames); });
    }
    /// The same for a block within a hop, with pitch looked for in what `pitched` passes on of flat() to a Voicing.
    template <typename Pitched>
    std::span<const Sounds> hear(std::span<const float> microphone, std::span<const float> receiver, Pitched pitched) noexcept {
        filter(microphone, receiver);
        pitched(flat(), voicing_);
        return end_hops([this](std::size_t) { return voicing_.now(); });
    }

    /// How periodic the microphone was at the end of a hop of the last block, 0 to 1.
    float periodicity(const Sounds& sounds) const noexcept { return voicing_.periodicity(sounds.place); }

    /// As after construction, but for the place in the hop.
    void reset() noexcept;
    /// Goes on at the beginning of a hop.
    void to_hop() noexcept { frame_ = 0; }

    /// See Detector::memory_of_sounds().
    template <typename Visit> void memory(Visit& visit) {
        band_.memory(visit);
        envelope_.memory(visit);
        voicing_.memory(visit);
        for (MovingAverage& average : means_) average.memory(visit);
        balance_.memory(visit);
        low_balance_.memory(visit);
    }

private:
    static constexpr std::size_t shortest_hop = 8;  // at 8 kHz

    void filter(std::span<const float> microphone, std::span<const float> receiver) noexcept;
    std::span<const Pair> flat() const noexcept { return std::span(flat_).first(frames_); }
    template <typename After> std::span<const Sounds> end_hops(After after) noexcept;
    void end_hop(const Voicing::Moment& low, Sounds& sounds) noexcept;
    void pass_middle() noexcept;
    Ear(const DetectorSettings& settings, Hertz rate, Hertz pitch_rate, double hop_seconds);

    std::size_t hop_;
    VoiceBand band_;
    Envelope envelope_;
    Voicing voicing_;
    std::array<MovingAverage, 3> means_;
    Balance balance_, low_balance_;

    std::size_t frame_ = 0;   // of the hop
    Power middle_ = 0;        // the microphone's average in the middle of it, once that is past
    std::size_t frames_ = 0;  // of the last block, and what became of it:
    std::array<Pair, most> flat_{}, peaks_{}, averages_{};
    std::array<Sounds, most / shortest_hop + 1> sounds_{};
};

template <typename After> std::span<const Sounds> Ear::end_hops(After after) noexcept {
    std::size_t count = 0;
    for (std::size_t end = left(); end <= frames_; end += hop_) {
        Sounds& sounds = sounds_[count++];
        sounds.peak = peaks_[end - 1];
        sounds.average = averages_[end - 1];
        const std::size_t since_middle = hop_ - hop_ / 2;
        if (end > since_middle) middle_ = averages_[end - 1 - since_middle][0];
        end_hop(after(end), sounds);
    }
    frame_ = (frame_ + frames_) % hop_;
    pass_middle();
    return std::span(sounds_).first(count);
}

}  // namespace tripline::dsp
