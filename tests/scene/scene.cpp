#include "tests/scene/scene.h"

#include <algorithm>

namespace tripline::scene {
namespace {

Script script_for(const SceneSettings& settings, Corpus& corpus) {
    Random random(settings.seed);
    return settings.conversation ? converse(settings.script, corpus, random)
                                 : alternate(settings.script, corpus, random);
}

/// Highest sample of a typical recording of these: the median of their peaks.
float peak_of(const std::vector<Line>& lines) {
    if (lines.empty()) return 1;
    std::vector<float> peaks;
    for (const Line& line : lines) {
        const auto [low, high] = std::ranges::minmax(line.clip->samples);
        peaks.push_back(line.gain * std::max(-low, high));
    }
    std::ranges::nth_element(peaks, peaks.begin() + static_cast<std::ptrdiff_t>(peaks.size() / 2));
    return peaks[peaks.size() / 2];
}

}  // namespace

float Scene::Voice::at(Frames now) {
    const auto over = [&](const Line& line) {
        return now.count >= line.start.count + static_cast<std::int64_t>(line.clip->samples.size());
    };
    while (first_ < lines_.size() && over(lines_[first_])) ++first_;
    if (first_ == lines_.size() || now < lines_[first_].start) return 0;
    const Line& line = lines_[first_];
    return line.gain * line.clip->samples[static_cast<std::size_t>((now - line.start).count)];
}

Scene::Scene(const SceneSettings& settings, Corpus& corpus)
    : Scene(settings, script_for(settings, corpus), corpus) {}

Scene::Scene(const SceneSettings& settings, Script script, Corpus& corpus)
    : random_(~settings.seed),
      script_(std::move(script)),
      near_(script_.near),
      far_(script_.far),
      sounds_(script_.room),
      radio_(settings.radio, settings.script.far_level, random_.fork(), corpus.rate()),
      path_(settings.path, settings.script.far_level, random_.fork(), corpus.rate()),
      leak_gain_(static_cast<float>(to_amplitude(Decibels{
          settings.script.near_level.value + settings.leak.value - settings.script.far_level.value}))),
      mute_step_(static_cast<float>(1 / (0.005 * corpus.rate().value))) {
    const auto add = [&](const std::string& name, Decibels relative) {
        const Dbfs level{settings.script.near_level.value + relative.value};
        const std::uint64_t seed = random_.fork();
        room_.push_back({make_source(name, corpus, seed), gain_for(name, corpus, seed, level)});
    };
    add("pink", settings.room);
    if (settings.relays) relays_.emplace(*settings.relays, settings.seed, corpus.rate());
    if (settings.noise.empty()) return;
    add(settings.noise, settings.noise_level);
    if (settings.noise_by_peak) {
        const float own = peak_of(settings.noise, corpus, settings.seed);
        room_.back() = {make_source(settings.noise, corpus, settings.seed),
                        static_cast<float>(to_amplitude(settings.noise_level)) * peak_of(script_.near) / own};
    }
}

float Scene::receive(bool keyed) {
    const float heard = radio_(far_.at(now_));
    opening_ = std::clamp(opening_ + (keyed ? -mute_step_ : mute_step_), 0.0F, 1.0F);
    return opening_ * heard;
}

Sample Scene::next(bool keyed) {
    const float receiver = receive(keyed);
    float microphone = near_.at(now_) + sounds_.at(now_) + leak_gain_ * path_(receiver);
    for (Sound& sound : room_) microphone += sound.next();
    if (relays_) microphone += relays_->next();
    now_ += Frames{1};
    return {microphone, receiver};
}

IdealStation::IdealStation(const std::vector<Spurt>& near, Duration hold, Hertz rate)
    : overs_(join(near, hold)), rate_(rate) {
    for (Spurt& over : overs_) {
        over.onset += 20ms;
        over.end += hold + 300ms;
    }
}

bool IdealStation::keyed(Frames now) {
    while (at_ < overs_.size() && now > to_frames(overs_[at_].end, rate_)) ++at_;
    return at_ < overs_.size() && now >= to_frames(overs_[at_].onset, rate_);
}

}  // namespace tripline::scene
