// The places of what a score counts.
#include "daemon/replay/mistake.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

namespace tripline::replay {
namespace {

using std::chrono_literals::operator""s;

/// `count` stretches, one after another.
Spans random_spans(std::mt19937& random, int count) {
    std::uniform_int_distribution<int> step(20, 6000);
    Spans spans;
    Duration at{};
    for (int i = 0; i < count; ++i) {
        const Duration begin = at + std::chrono::milliseconds(step(random));
        at = begin + std::chrono::milliseconds(step(random));
        spans.push_back({begin, at});
    }
    return spans;
}

int count(const std::vector<Mistake>& found, MistakeKind kind) {
    return static_cast<int>(std::ranges::count(found, kind, &Mistake::kind));
}

TEST(Mistakes, AreAsManyOfEachKindAsTheScoreCounts) {
    const auto seed = std::random_device{}();
    SCOPED_TRACE(testing::Message() << "seed " << seed);
    std::mt19937 random(seed);
    const Timing timing{.hold = 1s, .relay = 50ms, .transmitter = 15ms, .look_ahead = 40ms};
    for (int run = 0; run < 500; ++run) {
        const Spans labels = random_spans(random, 12);
        std::vector<Spell> spells;
        for (const Span& span : random_spans(random, 12)) {
            spells.push_back({span.begin - 35ms, span.begin, span.end, station::Reason::silence});
        }
        const auto found = mistakes(labels, spells, timing);
        const Score counted = score(labels, spells, timing, 200s);
        ASSERT_EQ(count(found, MistakeKind::missed), counted.missed);
        ASSERT_EQ(count(found, MistakeKind::torn), counted.torn);
        ASSERT_EQ(count(found, MistakeKind::false_key), counted.false_keys);
        ASSERT_EQ(count(found, MistakeKind::held_on), counted.held_on);
        ASSERT_EQ(count(found, MistakeKind::clipped), counted.clipped);
        ASSERT_TRUE(std::ranges::is_sorted(found, {}, [](const Mistake& m) { return m.at.begin; }));
    }
}

}  // namespace
}  // namespace tripline::replay
