// Answers of a running station in words.
#include "daemon/cli/answer.h"
#include "daemon/cli/desk_text.h"

#include <gtest/gtest.h>

namespace tripline::cli {
namespace {

TEST(TheSettingsOfARunningStation, AreToldOneALine) {
    EXPECT_EQ(settings_text(R"({"re":"settings","ok":true,"settings":[)"
                            R"({"key":"gate.open_dbfs","value":"-50","allowed":"-90 to 0"},)"
                            R"({"key":"gate.hold_ms","value":"1500","allowed":"0 to 60000"}]})"),
              "gate.open_dbfs = -50    # -90 to 0\n"
              "gate.hold_ms = 1500    # 0 to 60000\n");
}

TEST(AnAnswer, BringsNoControlCharactersToTheTerminal) {
    EXPECT_EQ(plain_answer(R"({"ok":true,"sound":"a\u001b[2Jb","not_saved":["\n"],"overs":2})"),
              R"({"ok":true,"sound":"a?[2Jb","not_saved":["?"],"overs":2})");
}

TEST(AnAnswer, ThatMakesNoSenseIsSaidToMakeNone) {
    const auto told_of = [](const char* answer) {
        try {
            understood("/run/a.sock", [&] { return status_text(answer); });
        } catch (const std::runtime_error& error) {
            return std::string(error.what());
        }
        return std::string("nothing");
    };
    for (const char* answer : {"", "no", "[]", R"({"ok":true})", R"({"ok":true,"trouble":5})"})
        EXPECT_EQ(told_of(answer), "/run/a.sock: the answer makes no sense; is this the control socket of a station?") << answer;
}

std::string status_with(const std::string& echo) {
    return status_text(R"({"trouble":"","phase":"running","mode":"armed","mode_taken":"armed","state":"rest","reason":"silence",)"
                       R"("key":false,"mute":false,"antenna":false,"overs":2,"keyed_s":7.5,"sound":"shack","not_saved":[],"echo":)" + echo + "}");
}

TEST(TheStatus, TellsThatTheKeyIsForced) {
    const std::string told = status_text(R"({"trouble":"","phase":"running","mode":"keyed","mode_taken":"keyed","state":"on_air","reason":"forced",)"
                                         R"("key":true,"mute":true,"antenna":true,"overs":2,"keyed_s":7.5,"sound":"shack","not_saved":[],"echo":null})");
    EXPECT_NE(told.find("mode            keyed by hand, until unkey, safe or the time limit opens the key\n"), std::string::npos) << told;
}

TEST(TheStatus, TellsThatASpentForcedKeyLetsNothingKey) {
    const auto with = [](const char* mode, const char* awaited) {
        return status_text(std::string(R"({"trouble":"","phase":"running","mode":")") + mode + R"(","mode_taken":")" + mode +
                           R"(","state":"locked_out","reason":"too_long","quiet_awaited":)" + awaited +
                           R"(,"key":false,"mute":false,"antenna":false,"overs":2,"keyed_s":7.5,"sound":"shack","not_saved":[],"echo":null})");
    };
    const std::string spent = "mode            keyed, but the key was opened: nothing keys until key forces it again or arm lets the voice key\n";
    EXPECT_NE(with("keyed", "false").find(spent + "state           locked_out (too_long)\n"), std::string::npos);
    EXPECT_NE(with("armed", "true").find("mode            armed\nstate           locked_out (too_long) until the microphone has been quiet\n"), std::string::npos);
}

TEST(TheStatus, TellsHowSureTheEchoModelIs) {
    const auto model = [](const char* sure, const char* delay, const char* clocks) {
        return std::string(R"({"sure":)") + sure + R"(,"explained_percent":97.5,"reduction_db":16.0,"delay_ms":)" + delay +
               R"(,"clocks_differ":)" + clocks + R"(,"drift_ppm":80.0})";
    };
    EXPECT_EQ(status_with("null").find("echo"), std::string::npos);
    EXPECT_NE(status_with(model("true", "12.3", "false")).find("sure, takes 16.0 dB off; the receiver arrives after 12.3 ms"), std::string::npos);
    EXPECT_NE(status_with(model("false", "null", "false")).find("not sure yet, explains 98 %: the envelopes guard"), std::string::npos);
    EXPECT_NE(status_with(model("false", "null", "true")).find("two clocks, 80 ppm apart"), std::string::npos);
}

/// With a station that does not tell of its black box, which is older, the row is not there.
TEST(TheStatus, TellsWhatBecameOfTheLastCaptureAndOfNewSettings) {
    const auto with = [](const std::string& captures, const char* pending) {
        return status_with("null,\"settings_pending\":" + std::string(pending) + ",\"captures\":" + captures);
    };
    EXPECT_EQ(status_with("null").find("black box"), std::string::npos);
    EXPECT_EQ(with(R"({"asked":0,"ended":0,"last":[]})", "false").find("black box"), std::string::npos);
    EXPECT_NE(with(R"({"asked":2,"ended":1,"last":[{"number":1,"sound":"/a.flac"}]})", "false").find("black box       is being asked for what it keeps\n"), std::string::npos);
    EXPECT_NE(with(R"({"asked":1,"ended":1,"last":[{"number":1,"sound":"/a.flac"}]})", "false").find("black box       wrote /a.flac\n"), std::string::npos);
    EXPECT_NE(with(R"({"asked":1,"ended":1,"last":[{"number":1,"failure":"the disk is full"}]})", "true").find("black box       could not write: the disk is full\n"), std::string::npos);
    EXPECT_NE(with(R"({"asked":0,"ended":0,"last":[]})", "true").find("new settings    wait for the lines to come to rest\n"), std::string::npos);
    EXPECT_EQ(with(R"({"asked":0,"ended":0,"last":[]})", "false").find("new settings"), std::string::npos);
}

}  // namespace
}  // namespace tripline::cli
