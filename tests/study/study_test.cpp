// What the page has worked out, against the commands that do the same with a file.
#include "daemon/study/study.h"

#include "daemon/setup/advice.h"
#include "daemon/setup/proof.h"
#include "daemon/setup/take.h"
#include "daemon/station/engine.h"
#include "daemon/study/margins.h"
#include "daemon/study/measures.h"
#include "daemon/study/refusal.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

namespace tripline::study {
namespace {

using Json = nlohmann::json;
using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr auto evening = "testdata/evening.flac";
constexpr auto takes = R"({"room":[28.3,31.8],"receiver":[32,36],"voice":[21.3,27.9]})";
constexpr Hertz rate{16000};

struct Events final : station::EventSink {
    void take(const station::Event& event) noexcept override { all.push_back(event); }
    std::vector<station::Event> all;
};

/// The shipped recording as the black box keeps it, ten seconds into the stream, and what the
/// station did with it.
black_box::KeptSound kept_evening(Duration length = 55s) {
    black_box::KeptSound kept{{}, rate, to_frames(10s, rate), {}, {}};
    kept.in_force.station.detector.hold = 1s;
    auto chunk = std::make_shared<black_box::Chunk>();
    replay::Recording recording({.file = evening});
    EXPECT_EQ(recording.rate(), rate);
    station::Engine engine(kept.in_force.station, rate);
    Events events;
    const auto enough = static_cast<std::size_t>(to_frames(length, rate).count);
    for (auto block = recording.next(); !block.microphone.empty() && chunk->size() < enough; block = recording.next()) {
        engine.process({.microphone = block.microphone, .receiver = block.receiver}, events);
        for (std::size_t i = 0; i < block.microphone.size(); ++i)
            chunk->push_back({block.microphone[i], block.receiver[i]});
    }
    kept.past = {chunk};
    kept.events = events.all;
    return kept;
}

std::vector<logbook::Over> overs(int count, int wrong) {
    std::vector<logbook::Over> list(static_cast<std::size_t>(count));
    list[static_cast<std::size_t>(wrong)].mark = logbook::Mark::false_key;
    return list;
}

TEST(TheMeasures, AreThoseOfSetupOnTheSameSound) {
    const setup::Stretches stretches{{18300ms, 21800ms}, replay::Span{22s, 26s}, {11300ms, 17900ms}, {}};
    const auto survey = setup::survey({.file = evening}, stretches, {}, {});
    const auto answer = Json::parse(measures(
        kept_evening(), takes, [](double) {}));
    EXPECT_EQ(answer.at("measured"), setup::in_words(survey));
    EXPECT_EQ(answer.at("troubles"), setup::troubles({.file = evening}, stretches));
    EXPECT_EQ(answer.at("good"), setup::advise(survey, {}).good() && answer.at("troubles").empty());
    EXPECT_GE(answer.at("distances").size(), 2U);
}

TEST(TheMeasures, AreReplayedAsSetupReplaysItsRecording) {
    const setup::Stretches stretches{{18300ms, 21800ms}, replay::Span{22s, 26s}, {11300ms, 17900ms}, {}};
    auto kept = kept_evening();
    const auto found = setup::advise(setup::survey({.file = evening}, stretches, {}, {}), kept.in_force);
    const auto proof = setup::prove({.file = evening}, stretches, found.settings.station);
    EXPECT_EQ(Json::parse(measures(kept, takes, [](double) {})).value("replayed", ""), setup::in_words(proof));
    kept.in_force.station.start_mode = station::Mode::safe;
    EXPECT_EQ(Json::parse(measures(kept, takes, [](double) {})).value("replayed", ""), setup::in_words(proof)) << "begun safe";
}

TEST(TheMeasures, TellWhatTheReplayKeysThatItShouldNot) {
    auto kept = kept_evening();
    kept.in_force.audio.receiver_channel = 0;  // and yet the loudspeaker speaks soon after the room's take
    const auto answer = Json::parse(measures(kept, R"({"room":[28.3,31.8],"voice":[21.3,27.9]})", [](double) {}));
    EXPECT_NE(answer.value("replayed", "").find("THE ROOM KEYS\n"), std::string::npos) << answer;
    EXPECT_FALSE(answer.at("good"));
}

TEST(TheMeasures, TellOfTroubleInTheTakesAsASessionDoes) {
    const auto answer = Json::parse(measures(
        kept_evening(), R"({"room":[32,36],"receiver":[21.3,27.9],"voice":[21.3,27.9]})", [](double) {}));
    EXPECT_FALSE(answer.at("good"));
    const std::string all = answer.at("troubles").dump();
    EXPECT_NE(all.find("the room: The receiver is not silent"), std::string::npos) << all;
    EXPECT_NE(all.find("the receiver: The receiver is not heard on its own input"), std::string::npos) << all;
}

TEST(TheMeasures, OfAStationWithoutReceiverNeedNoTakeOfIt) {
    const setup::Stretches stretches{{18300ms, 21800ms}, {}, {11300ms, 17900ms}, {}};
    const auto survey = setup::survey({.file = evening, .no_receiver = true}, stretches, {}, {});
    auto kept = kept_evening();
    kept.in_force.audio.receiver_channel = 0;
    const auto answer = Json::parse(measures(kept, R"({"room":[28.3,31.8],"voice":[21.3,27.9]})", [](double) {}));
    EXPECT_EQ(answer.at("measured"), setup::in_words(survey));
    EXPECT_EQ(answer.at("troubles").size(), 0U);
    EXPECT_EQ(answer.at("good"), setup::advise(survey, kept.in_force).good());
    EXPECT_EQ(answer.at("changes").dump().find("anti_trip"), std::string::npos);
}

TEST(TheMeasures, RefuseATakeThatIsNoLongerKept) {
    EXPECT_THROW(measures(kept_evening(), R"({"room":[8,12],"receiver":[32,36],"voice":[21,27]})", [](double) {}), Refusal);
}

TEST(TheMeasures, TakeATakeOfWhichTheLastMomentIsNotKeptYet) {
    const auto until = [](const char* end) { return std::string(R"({"room":[28.3,31.8],"voice":[21.3,27.9],"receiver":[32,)") + end + "]}"; };
    const auto kept = kept_evening(26s);
    EXPECT_NO_THROW(measures(kept, until("36.4"), [](double) {}));
    try {
        measures(kept, until("42"), [](double) {});
        ADD_FAILURE() << "it was measured";
    } catch (const Refusal& refusal) {
        EXPECT_STREQ(refusal.what(), "the take of the receiver ends after the sound that is kept: take it again");
    }
}

TEST(TheMeasures, RefuseWhatIsNoRequest) {
    for (const char* request : {"", "[]", "{}", R"({"room":[1]})", R"({"room":["a",2],"receiver":[1,2],"voice":[1,2]})",
                                R"({"room":[-1,1e99],"receiver":[1,2],"voice":[1,2]})"}) {
        EXPECT_THROW(measures(kept_evening(), request, [](double) {}), Refusal) << request;
    }
}

TEST(TheMargins, CountAsRightWhatWasKeyedAndNotMarked) {
    const auto kept = kept_evening();
    const auto all = right_speech(kept, {});
    ASSERT_EQ(all.size(), 3U);
    const auto without_second = right_speech(kept, overs(9, 7));  // of nine, the last three are kept
    EXPECT_EQ(without_second, (replay::Spans{all[0], all[2]}));
}

TEST(TheMargins, CountAnOverThatGoesOnAsRightSoFar) {
    const auto all = right_speech(kept_evening(), {});
    const auto kept = kept_evening(all[1].end - 1s);
    const auto right = right_speech(kept, overs(9, 8));  // the one that was marked has ended
    ASSERT_EQ(right.size(), 1U) << "the first of the two was marked";
    EXPECT_EQ(right[0].begin, all[1].begin);
    EXPECT_GT(right[0].end, all[1].end - 1200ms);
    const auto answer = Json::parse(margins(kept, {}, [](double) {}));
    EXPECT_EQ(answer.at("overs"), 2);
    EXPECT_NE(answer.at("text").get<std::string>().find("[.]"), std::string::npos);
}

TEST(TheMargins, FindTheSettingsInForceWithoutAMistake) {
    const auto answer = Json::parse(margins(kept_evening(), {}, [](double) {}));
    EXPECT_EQ(answer.at("overs"), 3);
    EXPECT_NE(answer.at("text").get<std::string>().find('['), std::string::npos);
    // Under -12 dB the loudspeaker keys; upwards the learnt coupling counts, whatever is set.
    EXPECT_NE(answer.at("text").get<std::string>().find("anti_trip.coupling_db: with gate.open_dbfs = -53, from -12 to 24, an edge is seen only on the lower side"), std::string::npos) << answer.at("text");
    for (const auto& change : answer.at("changes")) EXPECT_NE(change.at("key"), "anti_trip.coupling_db");
    EXPECT_EQ(answer.at("picture").get<std::string>().rfind("<svg", 0), 0U);
}

TEST(TheMargins, AreRefusedWhenNothingWasKeyed) {
    auto kept = kept_evening();
    kept.events.clear();
    EXPECT_THROW(margins(kept, {}, [](double) {}), Refusal);
    kept.events = kept_evening(21s).events;  // one over
    EXPECT_THROW(margins(kept, overs(1, 0), [](double) {}), Refusal) << "marked as false";
}

/// Until it is worked out, two minutes at most.
Json outcome_of(const Study& study) {
    for (int i = 0; i < 6000; ++i) {
        auto outcome = Json::parse(study.outcome());
        if (!outcome.contains("working")) return outcome;
        std::this_thread::sleep_for(20ms);
    }
    return {};
}

TEST(AStudy, WorksOneThingOutAtATimeAndEndsWhenItsOwnerDoes) {
    black_box::BlackBox box({120s, {}, 0});
    const control::Desk desk;
    Study study(box, desk);
    EXPECT_EQ(study.outcome(), "{}");
    EXPECT_TRUE(study.begin(Study::Subject::margins, "{}"));
    EXPECT_EQ(outcome_of(study).at("failed"), "no sound has been heard yet");
    const auto kept = kept_evening();
    box.begin({.rate = rate, .at = kept.begin, .hop = Frames{8}, .mode = station::Mode::armed, .memory = {}, .in_force = kept.in_force});
    box.take(*kept.past.front());
    for (station::Event event : kept.events) {
        event.at += kept.begin;
        box.take(event);
    }
    EXPECT_TRUE(study.begin(Study::Subject::measures, takes));
    EXPECT_FALSE(study.begin(Study::Subject::margins, "{}"));
    EXPECT_TRUE(outcome_of(study).contains("measured"));
    EXPECT_TRUE(study.begin(Study::Subject::margins, "{}"));  // and is left at work
}

}  // namespace
}  // namespace tripline::study
