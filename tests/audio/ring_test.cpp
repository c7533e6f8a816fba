#include "daemon/audio/ring.h"

#include <gtest/gtest.h>

#include <array>
#include <thread>

namespace tripline::audio {
namespace {

TEST(ARing, TakesItsCapacityAndNotOneMore) {
    Ring<int> ring(3);
    for (int i = 0; i < 3; ++i) EXPECT_TRUE(ring.push(i));
    EXPECT_FALSE(ring.push(3));
    EXPECT_EQ(ring.waiting(), 3U);
    EXPECT_EQ(ring.room(), 0U);
}

TEST(ARing, TakesOfManyWhatHasRoom) {
    Ring<int> ring(3);
    const std::array<int, 5> five{1, 2, 3, 4, 5};
    EXPECT_EQ(ring.push(std::span<const int>(five)), 3U);
    std::array<int, 5> out{};
    EXPECT_EQ(ring.pop(std::span(out)), 3U);
    EXPECT_EQ(out, (std::array<int, 5>{1, 2, 3, 0, 0}));
}

struct Numbered {
    long number;
    long copy;
};

// Under ThreadSanitizer this is the proof that values cross between threads whole.
TEST(ARing, BringsEveryValueWholeAndInOrderFromOneThreadToAnother) {
    constexpr long count = 200'000;
    Ring<Numbered> ring(64);
    std::thread producer([&ring] {
        for (long i = 0; i < count;) {
            if (ring.push({i, i})) ++i;
            else std::this_thread::yield();
        }
    });
    for (long expected = 0; expected < count;) {
        Numbered value{};
        if (!ring.pop(value)) {
            std::this_thread::yield();
            continue;
        }
        ASSERT_EQ(value.number, expected);
        ASSERT_EQ(value.copy, expected);
        ++expected;
    }
    producer.join();
}

}  // namespace
}  // namespace tripline::audio
