// The echo model against the yardstick of echo control, ITU-T G.168: its conditions and
// limits as given in the project's reference values (secondary source), its signals made here.
#include "dsp/denormals.h"
#include "dsp/echo/two_paths.h"
#include "tests/echo/speech.h"

#include <gtest/gtest.h>

#include <memory>

namespace tripline::echo_test {
namespace {

/// What a call sounds like, and what the model leaves of the echo in it.
struct Call {
    Samples receiver;
    Samples echo;
    Samples left;   // of the echo alone: the operator's voice and the room are taken off again
    std::unique_ptr<dsp::echo::TwoPaths> model = std::make_unique<dsp::echo::TwoPaths>();

    void run(const Samples& near) {
        const dsp::DenormalsOff off;
        left.resize(receiver.size());
        for (std::size_t i = 0; i < receiver.size(); ++i) {
            model->push(echo[i] + near[i], receiver[i]);
            left[i] = model->residual() - near[i];
        }
    }
    double return_loss(double from, double to) const {
        return decibels(energy(receiver, from, to) / energy(left, from, to));
    }
    double enhancement(double from, double to) const {
        return decibels(energy(echo, from, to) / energy(left, from, to));
    }
};

Call call(const Samples& far, const Samples& path) {
    Call c;
    c.receiver = in_voice_band(far);
    c.echo = through(c.receiver, path);
    return c;
}

Samples room_noise(double seconds) { return in_voice_band(white(seconds, 1e-4, 99)); }

// Telephone line: 20 ms away, dispersed over some milliseconds.
const Samples line = path(0.020, 0.030, 6, 11);

TEST(TheModel, ReachesTheCombinedLossOfG168WithinHalfASecondOfWhiteNoise) {
    Call c = call(white(2, 0.1, 1), line);
    c.run(room_noise(2));
    EXPECT_GE(c.return_loss(0.45, 0.55), 27);
    const Samples room = path(0.020, 0.3, 6, 12);
    Call in_room = call(white(2, 0.1, 1), room);
    in_room.run(room_noise(2));
    RecordProperty("combined loss at 0.5 s on a line, dB", std::to_string(c.return_loss(0.45, 0.55)));
    RecordProperty("in a room of 0.3 s, dB", std::to_string(in_room.return_loss(0.45, 0.55)));
    EXPECT_GE(in_room.return_loss(0.9, 1.1), 25);
}

TEST(TheModel, StaysConvergedAfterTheFirstSecond) {
    Call c = call(white(12, 0.1, 2), line);
    c.run(room_noise(12));
    for (double t = 1; t < 12; t += 0.5) EXPECT_GE(c.return_loss(t, t + 0.5), 27) << "at " << t << " s";
}

TEST(TheModel, ConvergesOnACompositeSourceSignal) {
    Call c = call(composite_source(6, 0.1, 3), line);
    c.run(room_noise(6));
    EXPECT_GE(c.return_loss(1.05, 1.75), 27);
    EXPECT_GE(c.return_loss(4.9, 5.6), 35);
}

class DoubleTalk : public testing::TestWithParam<double> {};

// G.168 test 3B: 5 s of convergence, then the near side speaks as well.
TEST_P(DoubleTalk, LeavesTheModelWithin3DecibelsOfWhereItWas) {
    const double relative = GetParam();
    Call c = call(composite_source(12, 0.1, 4), line);
    Samples near = composite_source(12, 0.1 * std::pow(10, relative / 20), 5, double_talk);
    for (std::size_t i = 0; i < near.size(); ++i)
        if (i < at(5) || i >= at(8)) near[i] = 0;
    const Samples noise = room_noise(12);
    for (std::size_t i = 0; i < near.size(); ++i) near[i] += noise[i];
    c.run(in_voice_band(near));
    const double before = c.enhancement(4.2, 4.9);
    const double after = c.enhancement(8.05, 8.75);
    EXPECT_GE(after, before - 3) << "before " << before << " dB";
}

INSTANTIATE_TEST_SUITE_P(At, DoubleTalk, testing::Values(0.0, -15.0));

TEST(TheModel, FollowsALoudspeakerThatIsTurnedUpOrDownWithinTwoSeconds) {
    for (const double step : {-12.0, -6.0, 6.0, 12.0}) {
        Call c = call(white(10, 0.1, 6), line);
        for (std::size_t i = at(5); i < at(10); ++i)
            c.echo[i] *= static_cast<float>(std::pow(10, step / 20));
        c.run(room_noise(10));
        EXPECT_GE(c.enhancement(6.9, 7.1), 15) << step << " dB";
        EXPECT_GE(c.enhancement(9.5, 10), 20) << step << " dB";
    }
}

TEST(TheModel, FollowsALoudspeakerThatIsMovedWithinTwoSeconds) {
    for (const double return_loss : {0.0, 6.0, 18.0}) {
        Call c = call(white(10, 0.1, 6), line);
        const Samples moved = through(c.receiver, path(0.024, 0.03, return_loss, 13));
        std::copy(moved.begin() + 40000, moved.end(), c.echo.begin() + 40000);
        c.run(room_noise(10));
        EXPECT_GE(c.enhancement(6.9, 7.1), 15) << "return loss from 6 to " << return_loss << " dB";
        EXPECT_GE(c.enhancement(9.5, 10), 20) << "return loss from 6 to " << return_loss << " dB";
    }
}

// Median over frames of 250 ms: a mean would show the loudest word only.
double median_enhancement(const Call& c, double from, double to) {
    std::vector<double> all;
    for (double t = from; t + 0.25 <= to; t += 0.25) all.push_back(c.enhancement(t, t + 0.25));
    std::nth_element(all.begin(), all.begin() + static_cast<long>(all.size() / 2), all.end());
    return all[all.size() / 2];
}

TEST(TheModel, ConvergesOnRealSpeechInARoomWithADistortingLoudspeaker) {
    for (const double reverberation : {0.2, 0.4, 0.6}) {
        Samples far = speech(0, 12, 0.05);
        const Samples hiss = white(12, 0.005, 7);
        for (std::size_t i = 0; i < far.size(); ++i) far[i] += hiss[i];
        Call c = call(far, {1});
        c.echo = through(loudspeaker(c.receiver, 0.1, 0.2), path(0.03, reverberation, 6, 14));
        c.run(room_noise(12));
        EXPECT_GE(median_enhancement(c, 2, 4), 10) << "room of " << reverberation << " s";
        EXPECT_GE(median_enhancement(c, 8, 12), 15) << "room of " << reverberation << " s";
    }
}

// The loudspeaker is 20 dB softer at the microphone than in the receiver, the room's noise 10 dB over it.
TEST(TheModel, LearnsASoftPathUnderALouderRoomOnceItsEnvelopesAreKnown) {
    const auto in_loud_room = [](float coupling) {
        Call c = call(speech(0, 20, 0.05), path(0.03, 0.3, 20, 16));
        c.model->expect(coupling);
        c.run(in_voice_band(white(20, 0.05 * 0.1 * 3, 17)));
        return c;
    };
    const Call unknown = in_loud_room(1);
    const Call known = in_loud_room(0.01F);
    EXPECT_LT(4 * known.model->restarts(), unknown.model->restarts());
    EXPECT_GT(known.enhancement(15, 20), 3);
    EXPECT_LT(unknown.enhancement(15, 20), 0) << "it makes things worse, and so begins anew all the time";
}

TEST(TheModel, IsNotLedAstrayByTheOperatorsRealVoice) {
    Samples far = speech(0, 16, 0.05);
    const Samples hiss = white(16, 0.005, 8);
    for (std::size_t i = 0; i < far.size(); ++i) far[i] += hiss[i];
    Call c = call(far, path(0.03, 0.3, 6, 15));
    Samples near = in_voice_band(speech(1, 16, 0.05));
    for (std::size_t i = 0; i < near.size(); ++i)
        if (i < at(8) || i >= at(12)) near[i] = 0;
    c.run(near);
    EXPECT_GE(median_enhancement(c, 8, 12), median_enhancement(c, 6, 8) - 3);
    EXPECT_GE(median_enhancement(c, 12, 16), median_enhancement(c, 6, 8) - 3);
}

}  // namespace
}  // namespace tripline::echo_test
