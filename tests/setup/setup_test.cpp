// What setup measures, against what is known of the scene; what it advises, on another recording
// of the same station.
#include "daemon/cli/time_option.h"
#include "daemon/setup/advice.h"
#include "config/edit.h"
#include "daemon/setup/config_text.h"
#include "daemon/setup/proof.h"
#include "daemon/setup/take.h"
#include "config/load.h"
#include "tests/cli/run.h"
#include "tests/scene/scene_file.h"
#include "tests/setup/session.h"
#include "daemon/replay/examine.h"

#include <gtest/gtest.h>

namespace tripline::setup {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr Hertz rate{16000};

class Setup : public testing::Test {
protected:
    Survey survey_of(const Session& session) { return survey(session.source(), session.stretches(), {}, {}); }

    scene::Corpus corpus_{rate};
};

TEST_F(Setup, MeasuresRoomLeakDelayAndVoiceOfAStationOfWhichTheyAreKnown) {
    const Session session(known_station(), Decibels{6}, corpus_);
    const Survey found = survey_of(session);
    std::printf("%s", in_words(found).c_str());
    EXPECT_NEAR(found.room.value, -28 - 34, 1);
    EXPECT_NEAR(found.coupling.value, -28 - 14 + 22, 1);
    ASSERT_TRUE(found.delay);
    EXPECT_LE(std::chrono::abs(*found.delay - 23ms), 2ms);
    EXPECT_NEAR(found.voice.value, -28, 1);           // each recording's own level by P.56
    ASSERT_TRUE(found.soft_in_band);
    EXPECT_NEAR(found.soft_in_band->value, found.voice_in_band.value - 6, 1);
}

TEST_F(Setup, MeasuresTheSameInARoomWithEcho) {
    auto settings = known_station();
    settings.path.reverberation = 300ms;
    const Session session(settings, Decibels{6}, corpus_);
    const Survey found = survey_of(session);
    std::printf("%s", in_words(found).c_str());
    EXPECT_NEAR(found.coupling.value, -28 - 14 + 22, 1);
    ASSERT_TRUE(found.delay);
    EXPECT_LE(std::chrono::abs(*found.delay - 23ms), 2ms);
}

TEST_F(Setup, AdvisesSettingsThatMissNothingAndKeyNothingElseInAnotherRecording) {
    const Session session(known_station(), Decibels{6}, corpus_);
    const Advice advice = advise(survey_of(session), {});
    EXPECT_TRUE(advice.good()) << in_words(advice);
    EXPECT_TRUE(prove(session.source(), session.stretches(), advice.settings.station).good());

    auto later = known_station();
    later.seed = 12;
    later.script.length = 180s;
    scene::Scene scene(later, corpus_);
    const auto stem = session.source().file.string() + "-later";
    scene::write_files({.path = stem}, scene, rate);
    const replay::RecordingSource source{.file = stem + ".wav"};
    replay::Recording recording(source);
    const replay::LabelSet labels{stem + ".rttm", replay::read_labels(stem + ".rttm")};
    const auto result = replay::examine(recording, source, advice.settings.station, labels, {});
    std::filesystem::remove(stem + ".wav");
    std::filesystem::remove(stem + ".rttm");
    EXPECT_GT(result.score->overs, 4);
    EXPECT_EQ(result.score->missed, 0);
    EXPECT_EQ(result.score->false_keys, 0);
}

TEST_F(Setup, DoesNotPretendWhenTheRoomIsTooLoud) {
    auto loud = known_station();
    loud.room = Decibels{-12};
    const Session session(loud, Decibels{6}, corpus_);
    const Advice advice = advise(survey_of(session), {});
    EXPECT_FALSE(advice.good());
    EXPECT_NE(in_words(advice).find("soft voice over room"), std::string::npos);
    EXPECT_NE(in_words(advice).find("make the room quieter"), std::string::npos);
}

TEST_F(Setup, DoesNotPretendWhenTheLoudspeakerIsLouderThanTheVoice) {
    auto loud = known_station();
    loud.leak = Decibels{8};
    const Session session(loud, Decibels{6}, corpus_);
    const Advice advice = advise(survey_of(session), {});
    EXPECT_FALSE(advice.good());
    EXPECT_NE(in_words(advice).find("turn it down or away"), std::string::npos);
}

TEST_F(Setup, LeavesTheEchoMethodAloneWhereBothInputsHaveClocksOfTheirOwn) {
    auto loud = known_station();
    loud.leak = Decibels{4};
    const Session session(loud, Decibels{6}, corpus_);
    const Survey found = survey_of(session);
    EXPECT_EQ(advise(found, {}).settings.station.detector.leak.method, dsp::AntiTrip::echo);
    config::Settings two;
    two.audio.monitor_device = "Blue box";
    const Advice advice = advise(found, two);
    EXPECT_EQ(advice.settings.station.detector.leak.method, dsp::AntiTrip::envelope);
    EXPECT_FALSE(advice.good());
}

TEST_F(Setup, FindsNoDelayWhereTheReceiverIsNotHeard) {
    auto apart = known_station();
    apart.leak = Decibels{-90};
    const Session session(apart, Decibels{6}, corpus_);
    const Survey found = survey_of(session);
    EXPECT_FALSE(found.delay);
    EXPECT_NE(in_words(found).find("not heard over the room"), std::string::npos);
}

TEST_F(Setup, WritesAConfigurationThatLoadsAsTheSettingsFound) {
    const Session session(known_station(), Decibels{6}, corpus_);
    const Survey found = survey_of(session);
    const Advice advice = advise(found, {});
    const auto loaded = config::load_text(config_text("session.wav", found, advice), "station.toml");
    EXPECT_TRUE(loaded.good());
    const auto& detector = loaded.settings.station.detector;
    EXPECT_EQ(detector.gate.open, advice.settings.station.detector.gate.open);
    EXPECT_EQ(detector.leak.coupling, advice.settings.station.detector.leak.coupling);
    EXPECT_EQ(detector.leak.delay, advice.settings.station.detector.leak.delay);
}

TEST_F(Setup, WritesTablesThatTakeMoreKeysByHandAndByTriplineSave) {
    const Session session(known_station(), Decibels{6}, corpus_);
    const Survey found = survey_of(session);
    const std::string text = config_text("session.wav", found, advise(found, {}));
    for (const char* header : {"\n[gate]\n", "\n[anti_trip]\n"}) EXPECT_NE(text.find(header), std::string::npos) << text;
    EXPECT_TRUE(config::load_text(config::with_value(text, "gate.hold_ms", "1800"), "station.toml").good());
    EXPECT_TRUE(config::load_text(text + "margin_db = 9\n[limits]\nlongest_over_s = 60\n", "station.toml").good());
}

TEST_F(Setup, WritesWhatWasMeasuredAlsoWhereItIsWhatShips) {
    auto equal = known_station();
    equal.leak = Decibels{6};   // a coupling of 0 dB, and 6 dB for peaks: as shipped
    const Session session(equal, Decibels{6}, corpus_);
    const Survey found = survey_of(session);
    const std::string text = config_text("session.wav", found, advise(found, {}));
    EXPECT_NE(text.find("\ncoupling_db = 6\n"), std::string::npos) << text;
    EXPECT_EQ(text.find("-0.0 dB"), std::string::npos) << text;
    for (const char* key : {"\nopen_dbfs = ", "\nvoice_peak_dbfs = ", "\nmethod = ", "\ndelay_ms = "})
        EXPECT_NE(text.find(key), std::string::npos) << key << " in " << text;
}

TEST_F(Setup, WritesNothingAgainstALeakThatIsNotHeard) {
    auto apart = known_station();
    apart.leak = Decibels{-90};
    const Session session(apart, Decibels{6}, corpus_);
    const Survey found = survey_of(session);
    const std::string text = config_text("session.wav", found, advise(found, {}));
    EXPECT_EQ(text.find("anti_trip"), std::string::npos) << text;
}

std::string joined(const std::vector<std::string>& lines) {
    std::string all;
    for (const auto& line : lines) all += line + '\n';
    return all;
}

TEST_F(Setup, FindsNoTroubleInTheTakesOfAGoodSession) {
    const Session session(known_station(), Decibels{6}, corpus_);
    EXPECT_EQ(joined(troubles(session.source(), session.stretches())), "");
}

TEST_F(Setup, NoticesTheReceiverOrAVoiceInTheRoomsTake) {
    const Session session(known_station(), Decibels{6}, corpus_);
    Stretches wrong = session.stretches();
    wrong.room = *wrong.receiver;
    EXPECT_NE(joined(troubles(session.source(), wrong)).find("the room: The receiver is not silent"), std::string::npos);
    wrong.room = wrong.voice;
    EXPECT_NE(joined(troubles(session.source(), wrong)).find("the room: A voice is heard for "), std::string::npos);
}

TEST_F(Setup, NoticesTheOperatorInTheReceiversTake) {
    for (const Duration echo : {0ms, 600ms}) {
        auto settings = known_station();
        settings.path.reverberation = echo;
        const Session session(settings, Decibels{6}, corpus_);
        Stretches wrong = session.stretches();
        wrong.receiver->end = wrong.voice.begin + 15s;
        const std::string found = joined(troubles(session.source(), wrong));
        EXPECT_TRUE(found.starts_with("the receiver: For ")) << found;
        EXPECT_NE(found.find("what the receiver's input does not carry: somebody spoke"), std::string::npos) << found;
    }
}

TEST_F(Setup, TakesNoLeakOfTheReceiverForTheOperator) {
    for (const double leak : {-25.0, -6.0, 6.0}) {
        for (const Duration echo : {0ms, 600ms}) {
            for (const Duration way : {5ms, 120ms}) {
                auto settings = known_station();
                settings.leak = Decibels{leak};
                settings.path.reverberation = echo;
                settings.path.delay = way;
                const Session session(settings, Decibels{6}, corpus_);
                const std::string found = joined(troubles(session.source(), session.stretches()));
                EXPECT_EQ(found.find("does not carry"), std::string::npos) << found;
            }
        }
    }
}

TEST_F(Setup, NoticesTakesThatAreExchanged) {
    const Session session(known_station(), Decibels{6}, corpus_);
    Stretches wrong = session.stretches();
    std::swap(*wrong.receiver, wrong.voice);
    const std::string found = joined(troubles(session.source(), wrong));
    EXPECT_NE(found.find("the receiver: The receiver is not heard on its own input"), std::string::npos) << found;
    EXPECT_NE(found.find("your voice: Something is heard on the receiver's input"), std::string::npos) << found;
}

TEST(TheSetupCommand, MeasuresNothingWhenAPartOfTheRecordingIsNotWhatItShouldBe) {
    std::vector<std::string> words{"setup", "testdata/evening.flac", "--room", "22-26", "--receiver", "11-18", "--voice", "31.5-34.6"};
    const auto outcome = cli::run(words);
    EXPECT_EQ(outcome.code, 1) << outcome.err;
    EXPECT_NE(outcome.out.find("TROUBLE: the receiver: The receiver is no louder on its own input (-51.0 dBFS) than in the room's take"), std::string::npos) << outcome.out;
    EXPECT_EQ(outcome.out.find("Measured:"), std::string::npos) << outcome.out;
    words.push_back("--keep");
    EXPECT_NE(cli::run(words).out.find("Measured:"), std::string::npos);
}

TEST_F(Setup, NeedsNoReceiverWhereTheStationHasNone) {
    const Session session(known_station(), Decibels{6}, corpus_);
    Stretches alone = session.stretches();
    alone.receiver = std::nullopt;
    const replay::RecordingSource source{.file = session.source().file, .no_receiver = true};
    EXPECT_EQ(joined(troubles(source, alone)), "");
    const Survey found = survey(source, alone, {}, {});
    EXPECT_NE(in_words(found).find("receiver                     none\n"), std::string::npos) << in_words(found);
    EXPECT_EQ(in_words(found).find("at the microphone"), std::string::npos) << in_words(found);
    EXPECT_EQ(beside_tune(found), "");
    const Advice advice = advise(found, {});
    EXPECT_TRUE(advice.good()) << in_words(advice);
    EXPECT_EQ(config_text("session.wav", found, advice).find("anti_trip"), std::string::npos);
    const Proof proof = prove(source, alone, advice.settings.station);
    EXPECT_TRUE(proof.good()) << in_words(proof);
    EXPECT_EQ(in_words(proof).find("receiver"), std::string::npos) << in_words(proof);
}

TEST(TheSetupCommand, AsksForTheReceiversPartUnlessThereIsNone) {
    std::vector<std::string> words{"setup", "testdata/evening.flac", "--room", "20-23.5", "--voice", "11-18"};
    EXPECT_NE(cli::run(words).err.find("and --receiver or --no-receiver"), std::string::npos);
    words.push_back("--no-receiver");
    EXPECT_NE(cli::run(words).code, 2);
    words.insert(words.end(), {"--receiver", "24-30"});
    EXPECT_NE(cli::run(words).err.find("--receiver and --no-receiver exclude each other"), std::string::npos);
}

TEST(TheSetupCommand, RefusesStretchesThatAreNone) {
    const auto refused = [](const char* room) {
        return cli::run({"setup", "testdata/evening.flac", "--room", room, "--receiver", "20-30", "--voice", "11-18"});
    };
    EXPECT_EQ(refused("5").code, 2);
    EXPECT_NE(refused("9-5").err.find("is not FROM-TO"), std::string::npos);
    EXPECT_NE(refused("0-1").err.find("the stretch of the room is shorter than 3 s"), std::string::npos);
    EXPECT_NE(refused("0-1:00:00").err.find("within the stretch of the room"), std::string::npos);
}

}  // namespace
}  // namespace tripline::setup
