#include "tests/scene/source.h"

#include "dsp/speech_level.h"
#include "tests/scene/filter.h"

#include <algorithm>
#include <bit>
#include <stdexcept>

namespace tripline::scene {

using std::chrono_literals::operator""s;

PinkNoise::PinkNoise(std::uint64_t seed) : random_(seed), held_(rows) {}

float PinkNoise::next() {
    const auto row = static_cast<std::size_t>(std::countr_zero(++count_ | (1U << (rows - 1))));
    sum_ -= held_[row];
    held_[row] = random_.between(-1, 1);
    sum_ += held_[row];
    return static_cast<float>((sum_ + random_.between(-1, 1)) / rows);
}

Hum::Hum(Hertz mains, Hertz rate) : step_(2 * std::numbers::pi * mains.value / rate.value) {}

float Hum::next() {
    phase_ = std::fmod(phase_ + step_, 2 * std::numbers::pi);
    double sum = 0;
    for (int harmonic = 1; harmonic <= 10; ++harmonic) sum += std::sin(harmonic * phase_) / harmonic;
    return static_cast<float>(sum / 2);
}

Hits::Hits(Corpus& corpus, const std::vector<std::string>& files, Pace pace, std::uint64_t seed)
    : random_(seed), pace_(pace), rate_(corpus.rate()) {
    for (const auto& file : files) {
        const Clip& clip = corpus.clip(file);
        if (!clip.samples.empty()) clips_.push_back(&clip);
    }
    schedule();
}

void Hits::schedule() {
    const double extra = std::chrono::duration<double>(pace_.mean - pace_.least).count();
    until_next_ = to_frames(pace_.least, rate_).count +
                  std::llround(random_.exponential(extra) * rate_.value);
}

float Hits::next() {
    if (--until_next_ <= 0) {
        const float gain = static_cast<float>(std::pow(10.0, random_.between(-6, 0) / 20));
        sounding_.push_back({clips_[random_.index(clips_.size())], 0, gain});
        schedule();
    }
    float sum = 0;
    for (Sounding& s : sounding_) sum += s.gain * s.clip->samples[s.at++];
    std::erase_if(sounding_, [](const Sounding& s) { return s.at >= s.clip->samples.size(); });
    return sum;
}

Chain::Chain(Corpus& corpus, std::vector<std::string> files, Duration gap, std::uint64_t seed)
    : corpus_(corpus), random_(seed), files_(std::move(files)), gap_(gap) {
    choose();
}

void Chain::choose() {
    old_ = clip_;
    old_at_ = at_;
    clip_ = &corpus_.clip(files_[random_.index(files_.size())]);
    const double pause = random_.exponential(std::chrono::duration<double>(gap_).count());
    at_ = gap_ == Duration::zero() ? 0 : -std::llround(pause * corpus_.rate().value);
}

float Chain::next() {
    const std::int64_t fade =
        gap_ == Duration::zero() ? to_frames(50ms, corpus_.rate()).count : std::int64_t{0};
    const auto length = static_cast<std::int64_t>(clip_->samples.size());
    if (at_ >= length - std::min(fade, length / 2)) choose();
    float out = 0;
    if (at_ >= 0 && at_ < static_cast<std::int64_t>(clip_->samples.size())) {
        const float in = at_ < fade ? static_cast<float>(at_) / static_cast<float>(fade) : 1.0F;
        out += in * clip_->samples[static_cast<std::size_t>(at_)];
    }
    if (old_ != nullptr && at_ < fade && old_at_ < static_cast<std::int64_t>(old_->samples.size())) {
        const float left = 1.0F - static_cast<float>(at_) / static_cast<float>(fade);
        out += left * old_->samples[static_cast<std::size_t>(old_at_++)];
    }
    ++at_;
    return out;
}

namespace {

/// Two people talking at once, each at the same active level.
class Talkers final : public Source {
public:
    Talkers(Corpus& corpus, std::uint64_t seed) {
        Random random(seed);
        for (const Talker& talker : corpus.talkers()) {
            if (voices_.size() == 2) break;
            voices_.emplace_back(corpus, talker.files, 600ms, random.fork());
        }
    }
    float next() override {
        float sum = 0;
        for (Chain& voice : voices_) sum += voice.next();
        return sum;
    }

private:
    std::vector<Chain> voices_;
};

}  // namespace

std::unique_ptr<Source> make_source(const std::string& name, Corpus& corpus, std::uint64_t seed) {
    if (name == "pink") return std::make_unique<PinkNoise>(seed);
    if (name == "hum") return std::make_unique<Hum>(Hertz{50}, corpus.rate());
    if (name == "talkers") return std::make_unique<Talkers>(corpus, seed);
    const auto files = noise_files(name);
    if (name == "keyboard") {
        return std::make_unique<Hits>(corpus, files, Hits::Pace{40ms, 180ms}, seed);
    }
    if (name == "footsteps") {
        return std::make_unique<Hits>(corpus, files, Hits::Pace{350ms, 600ms}, seed);
    }
    if (name == "impacts") {
        return std::make_unique<Hits>(corpus, files, Hits::Pace{500ms, 3s}, seed);
    }
    return std::make_unique<Chain>(corpus, files, Duration::zero(), seed);
}

float peak_of(const std::string& name, Corpus& corpus, std::uint64_t seed) {
    const auto source = make_source(name, corpus, seed);
    const Frames minute = to_frames(60s, corpus.rate());
    float peak = 0;
    for (Frames at; at < minute; at += Frames{1}) peak = std::max(peak, std::abs(source->next()));
    return peak;
}

float gain_for(const std::string& name, Corpus& corpus, std::uint64_t seed, Dbfs level) {
    const auto source = make_source(name, corpus, seed);
    BandPass band(Hertz{300}, Hertz{3000}, corpus.rate());
    dsp::SpeechLevel meter(corpus.rate());
    const Frames minute = to_frames(60s, corpus.rate());
    for (Frames at; at < minute; at += Frames{1}) {
        meter.push(static_cast<float>(band(source->next())));
    }
    return static_cast<float>(to_amplitude(Decibels{level.value - meter.active().value}));
}

}  // namespace tripline::scene
