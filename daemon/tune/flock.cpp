#include "daemon/tune/flock.h"

#include "daemon/station/memory.h"
#include "dsp/denormals.h"

#include <algorithm>
#include <cstring>
#include <map>
#include <utility>

namespace tripline::tune {
namespace {

/// About a tenth of a second.
constexpr std::size_t hops_a_page = 200;
/// More than an image usually takes.
constexpr std::size_t image_bytes = 4096;

class Kept final : public station::EventSink {
public:
    void take(const station::Event& event) noexcept override { events.push_back(event); }
    std::vector<station::Event> events;
};

}  // namespace

Flock::Flock(std::vector<station::Settings> settings, Hertz rate) : settings_(std::move(settings)) {
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

void Flock::take(std::span<const dsp::Sounds> heard) {
    const dsp::DenormalsOff denormals_off;
    const std::int64_t hop = engines_.front()->detector().hop().count;
    while (!heard.empty()) {
        const auto page = heard.first(std::min(heard.size(), hops_a_page));
        std::vector<Group> done;
        for (Group& group : groups_) run(std::move(group), page, done);
        groups_ = std::move(done);
        now_ += Frames{hop * static_cast<std::int64_t>(page.size())};
        heard = heard.subspan(page.size());
        join();
    }
}

/// Those that leave the group within the page begin it again, as a group of their own.
void Flock::run(Group group, std::span<const dsp::Sounds> page, std::vector<Group>& done) {
    std::vector<Group> waiting{std::move(group)};
    for (bool first = true; !waiting.empty(); first = false) {
        Group now = std::move(waiting.back());
        waiting.pop_back();
        station::Engine& engine = *engines_[now.members.front()];
        if (!first) {
            station::MemoryReader reader(now.begin);
            engine.begin_at(now_);
            engine.memory_of_judgement(reader);
        }
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
