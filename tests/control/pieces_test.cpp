// The small parts of the control socket.
#include "daemon/control/allowance.h"
#include "daemon/control/kept.h"
#include "daemon/control/line_reader.h"
#include "daemon/control/save.h"
#include "daemon/control/settings.h"

#include <gtest/gtest.h>

#include <stdexcept>

namespace tripline::control {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

TEST(AChangeThatThrows, IsAnsweredWithTheReason) {
    const Outcome thrown = told([]() -> Outcome { throw std::runtime_error("the disk was pulled out"); });
    EXPECT_FALSE(thrown.good);
    EXPECT_EQ(thrown.text, "the disk was pulled out");
    const Outcome done = told([] { return Outcome{true, "written"}; });
    EXPECT_TRUE(done.good);
    EXPECT_EQ(done.text, "written");
}

Request mode_of(station::Mode mode) {
    Request request;
    request.verb = Verb::mode;
    request.mode = mode;
    return request;
}

// It goes ahead of what waits; what waited would arm the station again after it.
TEST(ASafe, MakesVoidWhatWouldKeyAndHasNotHadItsTurn) {
    Desk desk;
    Request setting;
    setting.verb = Verb::set;
    auto armed = desk.put(mode_of(station::Mode::armed), "a test");
    auto keyed = desk.put(mode_of(station::Mode::keyed), "a test");
    auto set = desk.put(setting, "a test");
    auto safe = desk.put(mode_of(station::Mode::safe), "a test");
    const auto first = desk.next();
    ASSERT_TRUE(first && first->request.is_safe());
    const auto second = desk.next();
    ASSERT_TRUE(second);
    EXPECT_EQ(second->request.verb, Verb::set);
    EXPECT_FALSE(desk.next());
    ASSERT_TRUE(is_known(armed) && is_known(keyed));
    EXPECT_FALSE(armed.get().good);
    EXPECT_EQ(keyed.get().text, "a safe came before its turn");
}

TEST(TheLineReader, GivesLinesHoweverTheBytesCome) {
    const std::string text = "one\ntwo\n\nthree\n";
    for (std::size_t step = 1; step <= text.size(); ++step) {
        LineReader reader;
        std::vector<std::string> lines;
        for (std::size_t at = 0; at < text.size(); at += step) {
            reader.push(std::string_view(text).substr(at, step));
            while (auto line = reader.next()) lines.push_back(*line);
        }
        EXPECT_EQ(lines, (std::vector<std::string>{"one", "two", "", "three"})) << step;
    }
}

TEST(TheLineReader, TakesALineOfTheLimitAndNoLongerOne) {
    LineReader reader;
    reader.push(std::string(longest_line, 'x') + "\n");
    ASSERT_TRUE(reader.next());
    EXPECT_FALSE(reader.too_long());
    reader.push(std::string(longest_line + 1, 'x') + "\n");
    EXPECT_FALSE(reader.next());
    EXPECT_TRUE(reader.too_long());
}

TEST(TheLineReader, DoesNotWaitForTheEndOfALineThatIsTooLong) {
    LineReader reader;
    reader.push(std::string(longest_line + 1, 'x'));
    EXPECT_FALSE(reader.next());
    EXPECT_TRUE(reader.too_long());
}

TEST(TheAllowance, GivesSoManyAtOnceAndThenSoManyASecond) {
    Allowance allowance(10, 3);
    Duration now = 5s;
    int taken = 0;
    for (int i = 0; i < 10; ++i) taken += allowance.take(now) ? 1 : 0;
    EXPECT_EQ(taken, 3);
    for (int i = 0; i < 100; ++i) taken += allowance.take(now += 10ms) ? 1 : 0;
    EXPECT_NEAR(taken, 13, 1);
}

TEST(TheKeptOnes, AreTheLastByNumber) {
    Kept<int> kept(3);
    for (int i = 0; i < 10; ++i) kept.push(i);
    EXPECT_EQ(kept.first(), 7U);
    EXPECT_EQ(kept.last(2), (std::vector<int>{8, 9}));
    std::uint64_t cursor = 0;
    EXPECT_EQ(kept.since(cursor, 2), (std::vector<int>{7, 8}));
    EXPECT_EQ(kept.since(cursor, 2), (std::vector<int>{9}));
    EXPECT_TRUE(kept.since(cursor, 2).empty());
    EXPECT_EQ(kept.find(6), nullptr);
    EXPECT_EQ(*kept.find(9), 9);
    EXPECT_EQ(kept.find(10), nullptr);
}

TEST(TheSocket, IsWhereTheServiceManagerMadeAFolderOrWhereTheSettingsSay) {
    EXPECT_EQ(socket_path({}, ""), "");
    EXPECT_EQ(socket_path({}, "/run/tripline"), installed_socket);
    EXPECT_EQ(socket_path({"/run/other"}, "/run/tripline"), "/run/other");
    EXPECT_EQ(socket_path({"none"}, "/run/tripline"), "");
}

}  // namespace
}  // namespace tripline::control
