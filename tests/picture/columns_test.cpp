// An hour in as many columns as five seconds.
#include "daemon/picture/columns.h"

#include <gtest/gtest.h>

namespace tripline::picture {
namespace {

dsp::Heard microphone_at(double dbfs, bool voice = false) {
    dsp::Heard heard;
    heard.measures.microphone = to_power(Dbfs{dbfs});
    heard.voice = voice;
    return heard;
}

TEST(Columns, LoseNoPeakAndNoGap) {
    constexpr std::int64_t hour = 3600LL * 48000;
    Columns columns(100, {hour});
    for (std::int64_t at = 24; at <= hour; at += 24 * 1000) columns.take({at}, microphone_at(-60));
    columns.take({hour / 2}, microphone_at(-10));
    columns.take({hour / 2 + 24}, microphone_at(-90));
    const Column& middle = columns.all()[50];
    EXPECT_NEAR(middle.microphone.high, -10, 1e-4);
    EXPECT_NEAR(middle.microphone.low, -90, 1e-4);
    EXPECT_NEAR(columns.all()[49].microphone.high, -60, 1e-4);
    EXPECT_NEAR(columns.all()[51].microphone.low, -60, 1e-4);
}

TEST(Columns, KeepAVoiceOfOneHop) {
    Columns columns(10, {1000});
    columns.take({550}, microphone_at(-20, true));
    columns.take({560}, microphone_at(-60, false));
    EXPECT_TRUE(columns.all()[5].voice);
    EXPECT_FALSE(columns.all()[4].voice);
}

TEST(Columns, TakeTheEndIntoTheLast) {
    Columns columns(10, {1000});
    columns.take({1000}, microphone_at(-20));
    columns.take({1024}, microphone_at(-30));
    EXPECT_TRUE(columns.all()[9].filled);
    EXPECT_FALSE(columns.all()[8].filled);
}

}  // namespace
}  // namespace tripline::picture
