#include "daemon/tune/audience.h"

#include "daemon/tune/share_out.h"
#include "dsp/denormals.h"
#include "dsp/ear.h"

#include <algorithm>
#include <array>

namespace tripline::tune {
namespace {

constexpr std::size_t blocks_a_page = 8;

class Kept final : public station::EventSink {
public:
    void take(const station::Event& event) noexcept override { events.push_back(event); }
    std::vector<station::Event> events;
};

}  // namespace

class Audience::Ear {
public:
    Ear(const dsp::DetectorSettings& settings, Hertz rate)
        : settings_(settings), ear_(settings, rate) {}

    /// Whether it hears what an ear of those would.
    bool fits(const dsp::DetectorSettings& other) const {
        const auto windows = [](const dsp::EvidenceSettings& e) { return std::array{e.hum_50.window, e.hum_60.window, e.drone.window}; };
        return settings_.band == other.band && settings_.envelope == other.envelope && windows(settings_.evidence) == windows(other.evidence);
    }

    std::vector<dsp::Sounds> hear(const Page& page) {
        const dsp::DenormalsOff denormals_off;
        std::vector<dsp::Sounds> heard;
        for (std::size_t at = 0; at < page.microphone.size(); at += dsp::Ear::most) {
            const auto part = [at](std::span<const float> sound) { return dsp::stretch(sound, at, dsp::Ear::most); };
            for (dsp::Sounds sounds : ear_.hear(part(page.microphone), part(page.receiver))) {
                sounds.periodicity = ear_.periodicity(sounds);
                heard.push_back(sounds);
            }
        }
        return heard;
    }

private:
    const dsp::DetectorSettings settings_;
    dsp::Ear ear_;
};

class Audience::Loner {
public:
    Loner(const station::Settings& settings, Hertz rate, const Speech& speech) : engine_(settings, rate), book_(rate), rate_(rate) {
        if (speech) referee_.emplace(*speech, replay::timing_of(settings));
    }

    void take(const Page& page) {
        if (given_up_) return;
        kept_.events.clear();
        engine_.process({.microphone = page.microphone, .receiver = page.receiver}, kept_);
        for (const auto& event : kept_.events) book_.take(event);
        if (referee_) given_up_ = referee_->look(book_.spells(), to_duration(engine_.now(), rate_), seen_);
    }
    void close(Frames end) { book_.close(end); }
    const std::vector<replay::Spell>& spells() const { return book_.spells(); }
    const std::optional<replay::MistakeKind>& given_up() const { return given_up_; }

private:
    station::Engine engine_;
    replay::SpellBook book_;
    Kept kept_;
    std::optional<Referee> referee_;
    Referee::Seen seen_;
    std::optional<replay::MistakeKind> given_up_;
    Hertz rate_;
};

/// Settings that differ in nothing but their Variant.
struct Audience::Kin {
    station::Settings common;
    std::vector<std::size_t> settings;
};

Page read_page(replay::Recording& recording) {
    Page page;
    for (std::size_t i = 0; i < blocks_a_page; ++i) {
        const auto block = recording.next();
        if (block.microphone.empty()) break;
        page.microphone.insert(page.microphone.end(), block.microphone.begin(), block.microphone.end());
        page.receiver.insert(page.receiver.end(), block.receiver.begin(), block.receiver.end());
    }
    return page;
}

Audience::Audience(const std::vector<station::Settings>& settings, Hertz rate, unsigned workers, const Speech& speech)
    : workers_(std::max(1U, workers)), outcomes_(settings.size()) {
    std::vector<Kin> kins;
    for (std::size_t i = 0; i < settings.size(); ++i) {
        const auto& leak = settings[i].detector.leak;
        if (leak.enabled && leak.method == dsp::AntiTrip::echo) {
            add_loner(i, settings[i], rate, speech);
            continue;
        }
        const station::Settings common = without_variant(settings[i]);
        auto kin = std::ranges::find(kins, common, &Kin::common);
        if (kin == kins.end()) kin = kins.insert(kin, Kin{common, {}});
        kin->settings.push_back(i);
    }
    for (const Kin& kin : kins) add_kin(settings, kin, rate, speech);
}

Audience::~Audience() = default;

void Audience::add_loner(std::size_t setting, const station::Settings& settings, Hertz rate, const Speech& speech) {
    const Loner& loner = *loners_.emplace_back(std::make_unique<Loner>(settings, rate, speech));
    outcomes_[setting] = {&loner.spells(), &loner.given_up()};
}

void Audience::add_kin(const std::vector<station::Settings>& settings, const Kin& kin, Hertz rate, const Speech& speech) {
    std::vector<station::Settings> some;
    for (const std::size_t i : kin.settings) some.push_back(settings[i]);
    const auto& flock = flocks_.emplace_back(std::make_unique<Part>(Part{Flock(some, rate, speech), ear_for(kin.common.detector, rate)}))->flock;
    for (std::size_t i = 0; i < kin.settings.size(); ++i) outcomes_[kin.settings[i]] = {&flock.spells(i), &flock.given_up(i)};
}

std::size_t Audience::ear_for(const dsp::DetectorSettings& settings, Hertz rate) {
    const auto found = std::ranges::find_if(ears_, [&](const auto& ear) { return ear->fits(settings); });
    if (found != ears_.end()) return static_cast<std::size_t>(found - ears_.begin());
    ears_.push_back(std::make_unique<Ear>(settings, rate));
    return ears_.size() - 1;
}

Audience::Sounds Audience::hear(const Page& page) {
    Sounds heard(ears_.size());
    share_out(ears_.size(), workers_, [&](std::size_t i) { heard[i] = ears_[i]->hear(page); });
    return heard;
}

void Audience::judge(const Page& page, const Sounds& heard) {
    for (const auto& part : flocks_) part->flock.take(heard[part->ear], workers_);
    share_out(loners_.size(), workers_, [&](std::size_t i) { loners_[i]->take(page); });
}

bool Audience::done() const {
    return std::ranges::all_of(outcomes_, [](const Outcome& outcome) { return outcome.given_up->has_value(); });
}

void Audience::close(Frames end) {
    for (auto& part : flocks_) part->flock.close(end);
    for (auto& loner : loners_) loner->close(end);
}

const std::vector<replay::Spell>& Audience::spells(std::size_t setting) const { return *outcomes_[setting].spells; }
const std::optional<replay::MistakeKind>& Audience::given_up(std::size_t setting) const { return *outcomes_[setting].given_up; }

}  // namespace tripline::tune
