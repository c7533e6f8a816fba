// What was, against what is.
#include "daemon/prove/comparison.h"
#include "tests/prove/folder.h"

#include <gtest/gtest.h>

#include <stdexcept>

namespace tripline::prove {
namespace {

using std::chrono_literals::operator""ms;

Verdict verdict(const std::string& name, int missed, Duration onset) {
    Verdict made;
    made.name = name;
    made.result.score = replay::Score{};
    made.result.score->overs = 10;
    made.result.score->missed = missed;
    made.result.score->onset = {onset};
    return made;
}

std::string changes(const Verdicts& before, const Verdicts& now) {
    std::string text;
    for (const auto& change : compare(baseline_of(before), now)) {
        text += to_string(change) + (change.allowed() ? "\n" : " !\n");
    }
    return text;
}

TEST(ABaseline, KnowsNoChangeWhenNothingChanged) {
    EXPECT_EQ(changes({verdict("a", 1, 12ms)}, {verdict("a", 1, 12ms)}), "");
}

TEST(ABaseline, TellsWorseFromBetter) {
    EXPECT_EQ(changes({verdict("a", 1, 12ms)}, {verdict("a", 2, 9ms)}),
              "a: worse: missed 2, was 1 !\n"
              "a: better: onset_p50_ms 9, was 12\n"
              "a: better: onset_p95_ms 9, was 12\n");
}

TEST(ABaseline, AllowsTwoHopsOfOnset) {
    EXPECT_EQ(changes({verdict("a", 0, 12ms)}, {verdict("a", 0, 13ms)}), "");
}

TEST(ABaseline, DoesNotLetARecordingDropOutUnnoticed) {
    Verdict unreadable = verdict("c", 0, 1ms);
    unreadable.error = "is truncated";
    EXPECT_EQ(changes({verdict("a", 0, 1ms), verdict("c", 0, 1ms)}, {verdict("b", 0, 1ms), unreadable}),
              "b: new\na: gone !\nc: gone !\n");
}

TEST(ABaseline, DoesNotLetAFigureDropOutUnnoticed) {
    auto before = baseline_of({verdict("a", 0, 1ms)});
    before["a"]["elegance"] = 7;
    const auto found = compare(before, {verdict("a", 0, 1ms)});
    ASSERT_EQ(found.size(), 1U);
    EXPECT_EQ(to_string(found[0]), "a: gone: elegance");
    EXPECT_FALSE(found[0].allowed());
}

TEST(ABaseline, KnowsNoOnsetWhereNoneWasMeasured) {
    Verdict nobody_speaks = verdict("a", 0, 1ms);
    nobody_speaks.result.score->onset.clear();
    EXPECT_FALSE(baseline_of({nobody_speaks}).at("a").contains("onset_p50_ms"));
    EXPECT_EQ(changes({nobody_speaks}, {nobody_speaks}), "");
    EXPECT_EQ(changes({verdict("a", 0, 1ms)}, {nobody_speaks}), "a: gone: onset_p50_ms !\na: gone: onset_p95_ms !\n");
}

TEST(ABaseline, ReadsBackAsItWasWritten) {
    Folder folder;
    const auto written = baseline_of({verdict("a", 3, 12ms), verdict("b", 0, -4ms)});
    folder.write("baseline.json", to_json(written));
    EXPECT_EQ(read_baseline(folder / "baseline.json"), written);
}

TEST(ABaseline, IsRefusedWhenItIsNoneNamingTheFile) {
    Folder folder;
    for (const char* text : {"", "[]", "{}", R"({"tripline_baseline": 2, "recordings": {}})",
                             R"({"tripline_baseline": 1, "recordings": {"a": 3}})",
                             R"({"tripline_baseline": 1, "recordings": {"a": {"missed": "no"}}})",
                             R"({"tripline_baseline": 1, "recordings": {"\u001b[2J": {"missed": 0}}})",
                             R"({"tripline_baseline": 1, "recordings": {"a": {"\u001b[2J": 0}}})",
                             R"({"tripline_baseline": "1"})"}) {
        folder.write("baseline.json", text);
        try {
            read_baseline(folder / "baseline.json");
            ADD_FAILURE() << text;
        } catch (const std::runtime_error& error) {
            EXPECT_NE(std::string(error.what()).find("baseline.json: "), std::string::npos) << error.what();
        }
    }
    EXPECT_THROW(read_baseline(folder / "none.json"), std::runtime_error);
}

}  // namespace
}  // namespace tripline::prove
