#include "daemon/service/keyboard.h"

#include "daemon/lines/descriptor.h"

#include <gtest/gtest.h>

#include <fcntl.h>
#include <poll.h>
#include <stdlib.h>

#include <string_view>

namespace tripline::service {
namespace {

using station::Mode;

/// A pretended terminal: what is typed at one end is read at the other.
struct TheKeyboard : testing::Test {
    lines::Descriptor desk{::posix_openpt(O_RDWR | O_NOCTTY)};
    lines::Descriptor terminal;

    void SetUp() override {
        ASSERT_TRUE(desk);
        ASSERT_EQ(::grantpt(desk.get()), 0);
        ASSERT_EQ(::unlockpt(desk.get()), 0);
        terminal = lines::Descriptor(::open(::ptsname(desk.get()), O_RDWR | O_NOCTTY));
        ASSERT_TRUE(terminal);
    }
    void type(std::string_view keys) const {
        ASSERT_EQ(::write(desk.get(), keys.data(), keys.size()), static_cast<ssize_t>(keys.size()));
        pollfd arrived{.fd = terminal.get(), .events = POLLIN, .revents = 0};
        ::poll(&arrived, 1, 1000);
    }
    tcflag_t flags() const {
        termios settings{};
        ::tcgetattr(terminal.get(), &settings);
        return settings.c_lflag;
    }
};

TEST_F(TheKeyboard, GivesAModeForEachOfItsKeysAndNothingForOthers) {
    Keyboard keyboard(terminal.get());
    ASSERT_TRUE(keyboard.works());
    EXPECT_EQ(keyboard.next(), std::nullopt);
    type("xs?ak");
    EXPECT_EQ(keyboard.next(), Mode::safe);
    EXPECT_EQ(keyboard.next(), Mode::armed);
    EXPECT_EQ(keyboard.next(), Mode::keyed);
    EXPECT_EQ(keyboard.next(), std::nullopt);
}

TEST_F(TheKeyboard, LeavesTheTerminalAsItWas) {
    const tcflag_t before = flags();
    {
        const Keyboard keyboard(terminal.get());
        EXPECT_EQ(flags() & (ICANON | ECHO), 0U);
        EXPECT_NE(flags() & ISIG, 0U) << "Ctrl-C has to work";
    }
    EXPECT_EQ(flags(), before);
}

TEST_F(TheKeyboard, DoesNotWaitWhenAShellHasTurnedTheTerminalBack) {
    termios before{};
    ::tcgetattr(terminal.get(), &before);
    Keyboard keyboard(terminal.get());
    ::tcsetattr(terminal.get(), TCSANOW, &before);
    type("k");
    EXPECT_EQ(keyboard.next(), std::nullopt);
}

TEST(WithoutATerminal, ThereAreNoKeys) {
    const lines::Descriptor nothing(::open("/dev/null", O_RDONLY));
    Keyboard keyboard(nothing.get());
    EXPECT_FALSE(keyboard.works());
    EXPECT_EQ(keyboard.next(), std::nullopt);
}

}  // namespace
}  // namespace tripline::service
