// Answers of a running station in words.
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

TEST(ARefusal, NamesNoPlaceInAFileThatIsNone) {
    EXPECT_EQ(refusal_text("--set:1:20: gate.hysteresis_db: the gate would close under the room noise"),
              "gate.hysteresis_db: the gate would close under the room noise");
    EXPECT_EQ(refusal_text("there is no such setting"), "there is no such setting");
}

}  // namespace
}  // namespace tripline::cli
