#include "daemon/replay/recording.h"

#include <gtest/gtest.h>
#include <sndfile.hh>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <limits>

#include <unistd.h>

namespace tripline::replay {
namespace {

namespace fs = std::filesystem;

class ARecording : public testing::Test {
protected:
    ARecording() {
        const auto* test = testing::UnitTest::GetInstance()->current_test_info();
        folder_ = fs::temp_directory_path() / (std::string("tripline-") + test->name() + "-" +
                                               std::to_string(::getpid()));
        fs::create_directories(folder_);
    }
    ~ARecording() override { fs::remove_all(folder_); }

    fs::path path(const std::string& name) const { return folder_ / name; }

    /// Frame n of channel c holds n/32768 + c/8.
    fs::path write(const std::string& name, int rate, int channels, int frames,
                   int format = SF_FORMAT_WAV | SF_FORMAT_FLOAT) const {
        SndfileHandle file(path(name).c_str(), SFM_WRITE, format, channels, rate);
        std::vector<float> samples;
        for (int n = 0; n < frames; ++n) {
            for (int c = 1; c <= channels; ++c) {
                samples.push_back(static_cast<float>(n % 1000) / 32768 + static_cast<float>(c) / 8);
            }
        }
        EXPECT_EQ(file.writef(samples.data(), frames), frames) << file.strError();
        return path(name);
    }

    void cut(const fs::path& file) const { fs::resize_file(file, fs::file_size(file) / 2); }

    static std::string complaint(const RecordingSource& source) {
        try {
            Recording recording(source);
            while (!recording.next().microphone.empty()) {}
        } catch (const std::runtime_error& error) {
            return error.what();
        }
        return "none";
    }

    static void expect_refused(const RecordingSource& source, const std::string& reason) {
        const std::string text = complaint(source);
        EXPECT_NE(text.find(reason), std::string::npos) << text;
        EXPECT_NE(text.find(source.file.string()), std::string::npos) << text;
    }

private:
    fs::path folder_;
};

TEST_F(ARecording, YieldsMicrophoneLeftAndReceiverRightUnlessToldOtherwise) {
    const auto file = write("a.wav", 48000, 3, 10000);
    Recording usual({.file = file});
    const auto block = usual.next();
    EXPECT_EQ(block.microphone.size(), Recording::block_frames());
    EXPECT_FLOAT_EQ(block.microphone[1], 1.0F / 32768 + 1.0F / 8);
    EXPECT_FLOAT_EQ(block.receiver[1], 1.0F / 32768 + 2.0F / 8);
    Recording other({.file = file, .microphone_channel = 3, .receiver_channel = 1});
    const auto swapped = other.next();
    EXPECT_FLOAT_EQ(swapped.microphone[0], 3.0F / 8);
    EXPECT_FLOAT_EQ(swapped.receiver[0], 1.0F / 8);
}

TEST_F(ARecording, IsReadToItsLastFrame) {
    Recording recording({.file = write("a.wav", 8000, 2, 10001)});
    std::size_t frames = 0;
    for (auto block = recording.next(); !block.microphone.empty(); block = recording.next()) {
        frames += block.microphone.size();
    }
    EXPECT_EQ(frames, 10001U);
    EXPECT_EQ(recording.length().count, 10001);
}

TEST_F(ARecording, MayComeInAnyFormatOfTheLibrary) {
    for (const int format : {SF_FORMAT_WAV | SF_FORMAT_ULAW, SF_FORMAT_FLAC | SF_FORMAT_PCM_24,
                             SF_FORMAT_OGG | SF_FORMAT_VORBIS, SF_FORMAT_AIFF | SF_FORMAT_PCM_16,
                             SF_FORMAT_W64 | SF_FORMAT_DOUBLE, SF_FORMAT_AU | SF_FORMAT_PCM_32,
                             SF_FORMAT_CAF | SF_FORMAT_PCM_16, SF_FORMAT_RF64 | SF_FORMAT_PCM_16}) {
        EXPECT_EQ(complaint({.file = write("any", 44100, 2, 20000, format)}), "none") << std::hex << format;
    }
}

TEST_F(ARecording, TakesTheReceiverFromAnotherFile) {
    const auto microphone = write("m.wav", 16000, 1, 5000);
    const auto receiver = write("r.wav", 16000, 2, 5100);
    Recording recording({.file = microphone, .monitor = receiver, .receiver_channel = 2});
    const auto block = recording.next();
    EXPECT_FLOAT_EQ(block.microphone[0], 1.0F / 8);
    EXPECT_FLOAT_EQ(block.receiver[0], 2.0F / 8);
    EXPECT_EQ(recording.length().count, 5000);
}

TEST_F(ARecording, MayBeWithoutAReceiver) {
    Recording recording({.file = write("m.wav", 16000, 1, 5000), .no_receiver = true});
    const auto block = recording.next();
    EXPECT_EQ(block.microphone.size(), Recording::block_frames());
    EXPECT_TRUE(block.receiver.empty());
}

TEST(AStationWithoutReceiverAudio, HearsNoneOfARecordingUnlessItIsNamed) {
    EXPECT_TRUE(for_station({.file = "a.wav"}, 0).no_receiver);
    EXPECT_FALSE(for_station({.file = "a.wav"}, 2).no_receiver);
    EXPECT_FALSE(for_station({.file = "a.wav", .receiver_channel = 2}, 0).no_receiver);
    EXPECT_FALSE(for_station({.file = "a.wav", .monitor = "b.wav"}, 0).no_receiver);
    EXPECT_TRUE(for_station({.file = "a.wav", .no_receiver = true}, 2).no_receiver);
}

TEST_F(ARecording, IsRefusedWhenItIsMissingEmptyOrNoSound) {
    expect_refused({.file = path("none.wav")}, "there is no such file");
    expect_refused({.file = path("")}, "is not a regular file");
    std::ofstream(path("empty.wav")).close();
    expect_refused({.file = path("empty.wav")}, "is empty");
    std::ofstream(path("text.wav")) << "Good evening, Kolmen Fell.";
    expect_refused({.file = path("text.wav")}, "is not readable as sound");
    expect_refused({.file = write("nothing.wav", 48000, 2, 0)}, "holds no samples");
}

TEST_F(ARecording, IsRefusedWhenItIsTruncated) {
    for (const int format : {SF_FORMAT_WAV | SF_FORMAT_PCM_16, SF_FORMAT_AIFF | SF_FORMAT_PCM_16,
                             SF_FORMAT_FLAC | SF_FORMAT_PCM_16}) {
        const auto file = write("cut", 48000, 2, 48000, format);
        cut(file);
        expect_refused({.file = file}, "truncated");
    }
}

// FLAC, RFC 9639, 8.2: a total of 0 samples in the stream information says that it is not known.
TEST_F(ARecording, IsRefusedWhenItDoesNotTellItsLength) {
    const auto file = write("piped.flac", 48000, 2, 48000, SF_FORMAT_FLAC | SF_FORMAT_PCM_16);
    std::fstream bytes(file, std::ios::in | std::ios::out | std::ios::binary);
    bytes.seekg(21);
    const char upper = static_cast<char>(bytes.get() & 0xf0);
    bytes.seekp(21);
    bytes.write(&upper, 1).write("\0\0\0\0", 4);
    bytes.close();
    expect_refused({.file = file}, "does not tell its length");
}

TEST_F(ARecording, IsRefusedWhenItsRateIsOutOfRange) {
    expect_refused({.file = write("slow.wav", 1, 2, 100)}, "1 Hz is outside");
    expect_refused({.file = write("fast.wav", 1000000, 2, 100)}, "1000000 Hz is outside");
}

TEST_F(ARecording, IsRefusedWithoutTheChannelsAskedFor) {
    const auto mono = write("mono.wav", 48000, 1, 100);
    expect_refused({.file = mono}, "has one channel");
    expect_refused({.file = mono, .microphone_channel = 2}, "has no channel 2");
    expect_refused({.file = write("two.wav", 48000, 2, 100), .receiver_channel = 3}, "has no channel 3");
}

TEST_F(ARecording, IsRefusedWhenItsMonitorDiffersInRateOrLength) {
    const auto file = write("m.wav", 48000, 1, 48000);
    expect_refused({.file = file, .monitor = write("r.wav", 44100, 1, 48000)}, "44100 Hz, not 48000 Hz");
    expect_refused({.file = file, .monitor = write("s.wav", 48000, 1, 40000)}, "40000 frames, not 48000");
}

TEST_F(ARecording, IsRefusedAtASampleThatIsNotFinite) {
    for (const float bad : {std::numeric_limits<float>::quiet_NaN(), -std::numeric_limits<float>::infinity()}) {
        const auto file = path("bad.wav");
        {
            SndfileHandle out(file.c_str(), SFM_WRITE, SF_FORMAT_WAV | SF_FORMAT_FLOAT, 2, 48000);
            std::vector<float> samples(96000);
            samples[2 * 24000 + 1] = bad;
            out.writef(samples.data(), 48000);
        }
        expect_refused({.file = file}, "frame 24000 (0.500 s) of channel 2 is not a finite number");
    }
}

}  // namespace
}  // namespace tripline::replay
