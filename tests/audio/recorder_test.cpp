#include "daemon/audio/recorder.h"

#include "daemon/replay/recording.h"
#include "tests/temporary_folder.h"

#include <gtest/gtest.h>

namespace tripline::audio {
namespace {

struct ARecording : testing::Test {
    const TemporaryFolder folder;
    const std::string path = folder / "evening.wav";
    std::vector<Frame> heard;

    void record(int frames) {
        Recorder recorder(path, {48000}, [this](std::span<const Frame> more) { heard.insert(heard.end(), more.begin(), more.end()); });
        for (int i = 0; i < frames; ++i) {
            const float sample = static_cast<float>(i) / 65536.0F + 1e-7F;
            ASSERT_TRUE(recorder.ring().push({sample, -sample}));
        }
        EXPECT_TRUE(recorder.flush(std::chrono::seconds{10}));
        EXPECT_FALSE(recorder.failed());
    }
};

TEST_F(ARecording, HoldsWhatCameThroughTheRingToTheBit) {
    record(10'000);
    ASSERT_EQ(heard.size(), 10'000U);
    replay::RecordingSource source;
    source.file = path;
    replay::Recording recording(source);
    EXPECT_EQ(recording.length().count, 10'000);
    std::size_t at = 0;
    for (auto block = recording.next(); !block.microphone.empty(); block = recording.next()) {
        for (std::size_t i = 0; i < block.microphone.size(); ++i, ++at) {
            ASSERT_EQ(block.microphone[i], heard[at].microphone);
            ASSERT_EQ(block.receiver[i], heard[at].receiver);
        }
    }
    EXPECT_EQ(at, 10'000U);
}

// EBU Tech 3306, "RF64: An extended file format for audio": a chunk JUNK that comes first becomes the ds64, with
// three lengths of 64 bits, once the file is over 4 GiB.
TEST_F(ARecording, IsAWavWithRoomForTheLengthsOfALongerOne) {
    record(1000);
    const std::string text = folder.read("evening.wav");
    ASSERT_GT(text.size(), 20U);
    EXPECT_EQ(text.substr(0, 4), "RIFF");
    EXPECT_EQ(text.substr(8, 8), "WAVEJUNK");
    EXPECT_GE(static_cast<unsigned char>(text[16]), 24);
}

// As after a power cut: it was never closed.
TEST_F(ARecording, IsReadThoughItWasNeverClosed) {
    Recorder recorder(path, {48000}, {});
    for (int i = 0; i < 10'000; ++i) ASSERT_TRUE(recorder.ring().push({0.5F, -0.5F}));
    ASSERT_TRUE(recorder.flush(std::chrono::seconds{10}));
    const std::string left = folder / "left.wav";
    std::filesystem::copy_file(path, left);
    replay::RecordingSource source;
    source.file = left;
    replay::Recording recording(source);
    EXPECT_EQ(recording.length().count, 10'000);
}

TEST_F(ARecording, ThatCannotBeWrittenIsToldAtOnce) {
    EXPECT_THROW(Recorder(folder / "nowhere/evening.wav", {48000}, {}), Error);
}

}  // namespace
}  // namespace tripline::audio
