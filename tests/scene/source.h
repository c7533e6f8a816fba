// Endless sounds of a room.
#pragma once

#include "tests/scene/corpus.h"
#include "tests/scene/random.h"

#include <memory>
#include <string>
#include <vector>

namespace tripline::scene {

/// Yields one sample after another, for ever.
class Source {
public:
    virtual ~Source() = default;
    virtual float next() = 0;
};

/// 1/f noise: octave-spaced held random values (Voss and McCartney), smooth enough
/// over the voice band.
class PinkNoise final : public Source {
public:
    explicit PinkNoise(std::uint64_t seed);
    float next() override;

private:
    static constexpr int rows = 16;
    Random random_;
    std::vector<double> held_;
    double sum_ = 0;
    std::uint32_t count_ = 0;
};

/// Mains hum: a fundamental and nine harmonics falling 6 dB an octave.
class Hum final : public Source {
public:
    Hum(Hertz mains, Hertz rate);
    float next() override;

private:
    double step_;
    double phase_ = 0;
};

/// Separate sounds at irregular moments, which may overlap: keys, steps, thuds.
/// The gaps between their starts are a fixed part and an exponential part.
class Hits final : public Source {
public:
    struct Pace {
        Duration least;
        Duration mean;
    };
    Hits(Corpus& corpus, const std::vector<std::string>& files, Pace pace, std::uint64_t seed);
    float next() override;

private:
    struct Sounding {
        const Clip* clip;
        std::size_t at;
        float gain;
    };
    void schedule();

    Random random_;
    std::vector<const Clip*> clips_;
    Pace pace_;
    Hertz rate_;
    std::int64_t until_next_ = 0;
    std::vector<Sounding> sounding_;
};

/// Recordings one after another in random order with crossfades: a crowd, babble.
/// With `gap` above zero there is silence of that mean length between them instead.
class Chain final : public Source {
public:
    Chain(Corpus& corpus, std::vector<std::string> files, Duration gap, std::uint64_t seed);
    float next() override;

private:
    void choose();

    Corpus& corpus_;
    Random random_;
    std::vector<std::string> files_;
    Duration gap_;
    const Clip* old_ = nullptr;
    const Clip* clip_ = nullptr;
    std::int64_t at_ = 0;
    std::int64_t old_at_ = 0;
};

/// The source a name stands for: "pink", "hum", "keyboard", "footsteps", "impacts",
/// "crowd", "slide", "talkers" (two people of the room). Throws std::runtime_error.
std::unique_ptr<Source> make_source(const std::string& name, Corpus& corpus, std::uint64_t seed);

/// Highest sample in a minute of a source.
float peak_of(const std::string& name, Corpus& corpus, std::uint64_t seed);

/// Gain that brings a source to a level: its ITU-T P.56 active level within the voice
/// band of 300-3000 Hz, measured over a minute of a source made with the same seed.
float gain_for(const std::string& name, Corpus& corpus, std::uint64_t seed, Dbfs level);

}  // namespace tripline::scene
