// XML that collectors of test results can read.
#include "daemon/prove/junit.h"

#include <gtest/gtest.h>

namespace tripline::prove {
namespace {

TEST(JUnit, HasASuiteARecordingAndACaseALimit) {
    Verdict good;
    good.name = "good";
    good.result.score = replay::Score{};
    good.checks = {{"missed", 0, 0}, {"onset_p50_ms", 10, 25}};
    good.took = std::chrono::milliseconds(250);
    Verdict bad = good;
    bad.name = "bad";
    bad.checks = {{"missed", 2, 0}};
    Verdict broken;
    broken.name = "broken";
    broken.error = "x<y>.wav: is empty";
    const std::vector<Change> changes{{"bad", "missed", Trend::worse, 1, 2}, {"lost", "", Trend::gone}};
    EXPECT_EQ(to_junit({good, bad, broken}, changes, true),
              R"(<?xml version="1.0" encoding="UTF-8"?>
<testsuites name="tripline prove" tests="7" failures="3" errors="1">
  <testsuite name="good" tests="3" failures="0" errors="0" time="0.25">
    <testcase classname="good" name="missed"/>
    <testcase classname="good" name="onset_p50_ms"/>
    <testcase classname="good" name="baseline"/>
  </testsuite>
  <testsuite name="bad" tests="2" failures="2" errors="0" time="0.25">
    <testcase classname="bad" name="missed"><failure message="found 2, limit 0"/></testcase>
    <testcase classname="bad" name="baseline"><failure message="bad: worse: missed 2, was 1"/></testcase>
  </testsuite>
  <testsuite name="broken" tests="1" failures="0" errors="1" time="0">
    <testcase classname="broken" name="replay"><error message="x&lt;y&gt;.wav: is empty"/></testcase>
  </testsuite>
  <testsuite name="lost" tests="1" failures="1" errors="0" time="0">
    <testcase classname="lost" name="baseline"><failure message="lost: gone"/></testcase>
  </testsuite>
</testsuites>
)");
}

}  // namespace
}  // namespace tripline::prove
