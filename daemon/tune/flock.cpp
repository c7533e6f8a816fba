#include "daemon/tune/flock.h"

#include "daemon/station/memory.h"
#include "daemon/tune/share_out.h"
#include "dsp/denormals.h"

#include <algorithm>
#include <cstring>
#include <iterator>
#include <map>
#include <utility>

namespace tripline::tune {
namespace {

/// About a fifth of a second.
constexpr std::size_t hops_a_page = 400;
/// More than an image usually takes.
constexpr std::size_t image_bytes = 4096;

class Kept final : public station::EventSink {
public:
    void take(const station::Event& event) noexcept override { events.push_back(event); }
    std::vector<station::Event> events;
};

}  // namespace

Flock::Flock(std::vector<station::Settings> settings, Hertz rate, const std::optional<replay::Spans>& speech)
    : settings_(std::move(settings)), seen_(settings_.size()), given_up_(settings_.size()), rate_(rate) {
    if (speech) referee_.emplace(*speech, replay::timing_of(settings_.front()));
    for (std::size_t i = 0; i < settings_.size(); ++i) {
        variants_.push_back(variant_of(settings_[i].detector));
        engines_.push_back(std::make_unique<station::Engine>(settings_[i], rate));
        books_.emplace_back(rate);
        groups_.push_back(group_of({i}, {}));
    }
    join();
}

Flock::Group Flock::group_of(Members members, Image begin) const {
    std::ranges::stable_sort(members, std::ranges::greater{}, [&](std::size_t i) { return variants_[i].coupling; });
    Group group{std::move(members), {}, std::move(begin)};
    for (const std::size_t i : group.members) group.alike.add(variants_[i]);
    return group;
}

Flock::Image Flock::image(std::size_t setting) const {
    Image bytes;
    bytes.reserve(image_bytes);
    station::MemoryWriter writer(bytes);
    engines_[setting]->memory_of_judgement(writer);
    return bytes;
}

void Flock::take(std::span<const dsp::Sounds> heard, unsigned workers) {
    const std::int64_t hop = engines_.front()->detector().hop().count;
    while (!heard.empty()) {
        const auto page = heard.first(std::min(heard.size(), hops_a_page));
        std::vector<std::vector<Group>> done(groups_.size());
        share_out(groups_.size(), workers, [&](std::size_t i) { done[i] = run(std::move(groups_[i]), page); });
        groups_.clear();
        for (auto& some : done) std::ranges::move(some, std::back_inserter(groups_));
        now_ += Frames{hop * static_cast<std::int64_t>(page.size())};
        heard = heard.subspan(page.size());
        if (referee_) give_up();
        join();
    }
}

/// Those that have made a mistake leave for good.
void Flock::give_up() {
    const Duration now = to_duration(now_, rate_);
    for (Group& group : groups_) {
        const std::size_t at_work = group.members.front();
        std::erase_if(group.members, [&](std::size_t i) {
            given_up_[i] = referee_->look(books_[i].spells(), now, seen_[i]);
            return given_up_[i].has_value();
        });
        if (!group.members.empty() && group.members.front() != at_work) hand_over(image(at_work), group.members.front());
    }
    std::erase_if(groups_, [](const Group& group) { return group.members.empty(); });
}

void Flock::hand_over(const Image& image, std::size_t setting) {
    station::MemoryReader reader(image);
    engines_[setting]->begin_at(now_);
    engines_[setting]->memory_of_judgement(reader);
}

/// Those that leave the group within the page begin it again, as a group of their own. Touches
/// nothing but what belongs to the members.
std::vector<Flock::Group> Flock::run(Group group, std::span<const dsp::Sounds> page) {
    const dsp::DenormalsOff denormals_off;
    std::vector<Group> done;
    std::vector<Group> waiting{std::move(group)};
    for (bool first = true; !waiting.empty(); first = false) {
        Group now = std::move(waiting.back());
        waiting.pop_back();
        station::Engine& engine = *engines_[now.members.front()];
        if (!first) hand_over(now.begin, now.members.front());
        Kept kept;
        for (const dsp::Sounds& sounds : page) {
            engine.judge_heard(sounds, kept);
            if (now.members.size() == 1 || now.alike.hold(engine.detector().weighed(), engine.heard())) continue;
            Members left = part(now, engine.detector().weighed(), engine.heard());
            if (!left.empty()) waiting.push_back(group_of(std::move(left), now.begin));
        }
        for (const std::size_t member : now.members) {
            for (const auto& event : kept.events) books_[member].take(event);
        }
        done.push_back(std::move(now));
    }
    return done;
}

/// Takes those out of the group, and returns them, that would have done otherwise in this hop.
Flock::Members Flock::part(Group& group, const dsp::Weighed& weighed, const dsp::Heard& heard) const {
    Members staying;
    Members leaving;
    for (const std::size_t member : group.members) {
        Alike pair;
        pair.add(variants_[group.members.front()]);
        pair.add(variants_[member]);
        (pair.hold(weighed, heard) ? staying : leaving).push_back(member);
    }
    group = group_of(std::move(staying), std::move(group.begin));
    return leaving;
}

/// Groups that remember the same become one.
void Flock::join() {
    const auto less = [](const Image& a, const Image& b) {
        return a.size() != b.size() ? a.size() < b.size() : std::memcmp(a.data(), b.data(), a.size()) < 0;
    };
    std::map<Image, Members, decltype(less)> known(less);
    for (const Group& group : groups_) {
        Members& members = known[image(group.members.front())];
        members.insert(members.end(), group.members.begin(), group.members.end());
    }
    groups_.clear();
    for (auto& [begin, members] : known) groups_.push_back(group_of(std::move(members), begin));
}

void Flock::close(Frames end) {
    for (auto& book : books_) book.close(end);
}

}  // namespace tripline::tune
