// The engine in the callback: its meters, and the soft tone.
#include "daemon/audio/live_engine.h"

#include "daemon/station/names.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <vector>

namespace tripline::audio {
namespace {

constexpr Hertz rate{48000};
constexpr std::size_t block_size = 480;

struct Desk {
    Pulse pulse;
    Doors doors;
    station::Settings settings;
    std::unique_ptr<LiveEngine> engine = std::make_unique<LiveEngine>(settings, rate, pulse, doors);
    std::vector<float> microphone = std::vector<float>(block_size), receiver = microphone, transmitter = microphone,
                       loudspeaker = microphone;

    /// One block of silence; the loudest of what leaves.
    struct Peaks {
        float transmitter = 0, loudspeaker = 0;
    };
    Peaks process() {
        engine->process({microphone, receiver, transmitter, loudspeaker});
        const auto loudest = [](const std::vector<float>& samples) {
            float peak = 0;
            for (const float sample : samples) peak = std::max(peak, std::abs(sample));
            return peak;
        };
        return {loudest(transmitter), loudest(loudspeaker)};
    }
    Peaks process_many(int blocks) {
        Peaks all;
        for (int i = 0; i < blocks; ++i) {
            const Peaks one = process();
            all = {std::max(all.transmitter, one.transmitter), std::max(all.loudspeaker, one.loudspeaker)};
        }
        return all;
    }
    void strike() { doors.commands.push({.kind = Command::Kind::chime, .mode = {}, .standing = false}); }
};

TEST(TheLevels, Come25TimesASecond) {
    Desk desk;
    desk.process_many(500);  // five seconds
    int frames = 0;
    Frames before{0};
    for (LevelFrame frame; desk.doors.levels.pop(frame); ++frames) {
        EXPECT_EQ((frame.at - before).count, frames == 0 ? 480 : 1920);
        before = frame.at;
    }
    EXPECT_EQ(frames, 125);
}

TEST(TheLevels, ThatNobodyTakesHoldNothingUp) {
    Desk desk;
    desk.process_many(3000);
    EXPECT_EQ(desk.pulse.blocks.load(), 3000U);
}

TEST(TheSoftTone, SoundsInTheLoudspeakerAndNotInTheTransmitter) {
    Desk desk;
    desk.process_many(50);
    desk.strike();
    const auto peaks = desk.process_many(100);
    EXPECT_GT(peaks.loudspeaker, 0.01F);
    EXPECT_LT(peaks.loudspeaker, 0.04F);  // 30 dB under full scale
    EXPECT_EQ(peaks.transmitter, 0.0F);
    EXPECT_EQ(desk.process_many(10).loudspeaker, 0.0F) << "and ends";
}

TEST(TheSoftTone, IsNotHeardOnTheAirAndKeysNothing) {
    Desk desk;
    desk.doors.commands.push({.kind = Command::Kind::mode, .mode = station::Mode::keyed, .standing = false});
    desk.process_many(50);
    ASSERT_TRUE(unpack(desk.pulse.lines.load()).ptt);
    desk.strike();
    const auto peaks = desk.process_many(100);
    EXPECT_EQ(peaks.loudspeaker, 0.0F);
    EXPECT_EQ(peaks.transmitter, 0.0F);
}

TEST(TheSoftTone, ThatComesBackFromTheLoudspeakerKeysNothing) {
    Desk desk;
    desk.process_many(300);
    desk.strike();
    for (int i = 0; i < 300; ++i) {
        desk.process();
        for (std::size_t at = 0; at < block_size; ++at) desk.microphone[at] = 0.25F * desk.loudspeaker[at];  // 12 dB down
        EXPECT_FALSE(unpack(desk.pulse.lines.load()).ptt) << i;
    }
}

TEST(TheSoftTone, IsLeftOutWhereThereIsNoLoudspeaker) {
    Desk desk;
    desk.strike();
    for (int i = 0; i < 100; ++i) desk.engine->process({desk.microphone, {}, {}, {}});
    EXPECT_EQ(desk.pulse.blocks.load(), 100U);
}

TEST(ALockOut, AwaitsQuietAfterATimeOutAndNotAfterNewSettings) {
    Desk desk;
    const auto force = [&desk] {
        desk.doors.commands.push({.kind = Command::Kind::mode, .mode = station::Mode::keyed, .standing = false});
        desk.process_many(50);
        ASSERT_TRUE(unpack(desk.pulse.lines.load()).ptt);
        EXPECT_FALSE(desk.pulse.stand.load().quiet_awaited);
    };
    desk.settings.limits.longest_over = std::chrono::seconds{1};
    desk.settings.limits.quiet_to_clear = std::chrono::seconds{1};
    desk.engine = std::make_unique<LiveEngine>(desk.settings, rate, desk.pulse, desk.doors);
    force();
    desk.engine = std::make_unique<LiveEngine>(desk.settings, rate, desk.pulse, desk.doors, desk.engine.get());
    desk.process();
    EXPECT_EQ(desk.pulse.stand.load().state, station::State::locked_out);
    EXPECT_FALSE(desk.pulse.stand.load().quiet_awaited) << "new settings";
    force();
    desk.process_many(70);
    EXPECT_TRUE(desk.pulse.stand.load().quiet_awaited) << "time-out";
    desk.process_many(150);
    EXPECT_FALSE(desk.pulse.stand.load().quiet_awaited) << "it was quiet";
    EXPECT_EQ(desk.pulse.stand.load().state, station::State::locked_out);
}

// Nobody takes the events here: what a status shows waits for no thread.
TEST(AState, IsSeenWithItsOwnCauseAtEveryBlock) {
    using station::State;
    Desk desk;
    const auto command = [&desk](station::Mode mode) { desk.doors.commands.push({.kind = Command::Kind::mode, .mode = mode, .standing = false}); };
    for (int round = 0; round < 2; ++round) {
        command(station::Mode::keyed);
        for (int i = 0; i < 50; ++i) {
            desk.process();
            EXPECT_EQ(desk.pulse.stand.load().reason, station::Reason::forced) << station::name(desk.pulse.stand.load().state);
        }
        ASSERT_EQ(desk.pulse.stand.load().state, State::on_air);
        command(station::Mode::armed);
        for (int i = 0; i < 50; ++i) {
            desk.process();
            EXPECT_EQ(desk.pulse.stand.load().reason, station::Reason::unkeyed) << station::name(desk.pulse.stand.load().state);
        }
        ASSERT_EQ(desk.pulse.stand.load().state, State::rest);
    }
    desk.engine = std::make_unique<LiveEngine>(desk.settings, rate, desk.pulse, desk.doors, desk.engine.get());
    EXPECT_EQ(desk.pulse.stand.load().reason, station::Reason::unkeyed) << "new settings do not forget it";
}

}  // namespace
}  // namespace tripline::audio
