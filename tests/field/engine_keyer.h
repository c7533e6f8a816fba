// The project's own engine as a keyer.
#pragma once

#include "daemon/replay/spell.h"
#include "daemon/station/engine.h"
#include "tests/field/keyer.h"

#include <array>

namespace tripline::field {

class EngineKeyer final : public Keyer {
public:
    EngineKeyer(const station::Settings& settings, Hertz rate);

    void push(const scene::Sample& sample) override;
    station::Lines lines() const override { return engine_.lines(); }
    std::vector<replay::Spell> finish() override;
    replay::Timing timing() const override { return timing_; }

private:
    class Book final : public station::EventSink {
    public:
        explicit Book(Hertz rate) : spells(rate) {}
        void take(const station::Event& event) noexcept override { spells.take(event); }
        replay::SpellBook spells;
    };
    void flush();

    static constexpr std::size_t block_frames = 16;
    station::Engine engine_;
    Book book_;
    replay::Timing timing_;
    std::array<float, block_frames> microphone_{};
    std::array<float, block_frames> receiver_{};
    std::size_t filled_ = 0;
};

}  // namespace tripline::field
