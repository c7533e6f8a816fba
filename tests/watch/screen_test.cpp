// What goes over the line to a terminal. A terminal of this test's own obeys the sequences
// of ECMA-48 that are used: cursor position (CUP) and text.
#include "daemon/watch/screen.h"

#include <gtest/gtest.h>

#include <random>

namespace tripline::watch {
namespace {

struct Terminal {
    std::vector<std::string> rows = std::vector<std::string>(24, std::string(80, ' '));
    std::size_t row = 0, column = 0;

    void take(const std::string& sent) {
        for (std::size_t at = 0; at < sent.size();) {
            if (sent[at] != '\x1b') {
                rows.at(row).at(column++) = sent[at++];
                continue;
            }
            std::size_t length = 0;
            ASSERT_EQ(sent[at + 1], '[');
            row = std::stoul(sent.substr(at + 2), &length) - 1;
            at += 2 + length;
            ASSERT_EQ(sent[at], ';');
            column = std::stoul(sent.substr(at + 1), &length) - 1;
            at += 1 + length;
            ASSERT_EQ(sent[at], 'H');
            ++at;
        }
    }
};

std::string padded(std::string line) {
    line.resize(80, ' ');
    return line;
}

TEST(TheScreen, ShowsWhatItWasGivenWhateverStoodThereBefore) {
    const unsigned seed = std::random_device{}();
    SCOPED_TRACE("seed " + std::to_string(seed));
    std::mt19937 random(seed);
    Terminal terminal;
    Screen screen;
    for (int frame = 0; frame < 500; ++frame) {
        std::vector<std::string> lines(random() % 24);
        for (auto& line : lines)
            for (auto left = random() % 80; left > 0; --left) line += random() % 3 == 0 ? '=' : ' ';
        terminal.take(screen.show(lines));
        for (std::size_t row = 0; row < 24; ++row)
            ASSERT_EQ(terminal.rows[row], padded(row < lines.size() ? lines[row] : "")) << frame;
    }
}

TEST(TheScreen, SendsNothingWhenNothingChanged) {
    Screen screen;
    EXPECT_NE(screen.show({"receiving"}), "");
    EXPECT_EQ(screen.show({"receiving"}), "");
}

TEST(TheScreen, SendsOnlyTheChangedCells) {
    Screen screen;
    screen.show({"microphone [=====     ] -40.0"});
    EXPECT_EQ(screen.show({"microphone [======    ] -40.0"}), "\x1b[1;18H=");
}

}  // namespace
}  // namespace tripline::watch
