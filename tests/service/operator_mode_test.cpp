#include "daemon/service/operator_mode.h"

#include <gtest/gtest.h>

#include <vector>

namespace tripline::service {
namespace {

using audio::Command;
using station::Mode;
using Ring = audio::Ring<Command>;

std::vector<Mode> taken(Ring& ring) {
    std::vector<Mode> modes;
    for (Command command; ring.pop(command);) {
        if (command.kind == Command::Kind::mode) modes.push_back(command.mode);
    }
    return modes;
}

void fill(Ring& ring) {
    while (ring.push({.kind = Command::Kind::fault, .mode = {}, .standing = true})) {
    }
}

TEST(TheOperatorsMode, IsSentOnce) {
    Ring ring(8);
    OperatorMode mode(Mode::armed);
    mode.send(ring);
    EXPECT_EQ(taken(ring), std::vector<Mode>{});
    mode.command(Mode::safe);
    mode.send(ring);
    mode.send(ring);
    EXPECT_EQ(taken(ring), std::vector{Mode::safe});
    mode.command(Mode::armed);
    mode.send(ring);
    mode.send(ring);
    EXPECT_EQ(taken(ring), std::vector{Mode::armed});
}

TEST(TheOperatorsMode, WaitsForRoomInTheRing) {
    Ring ring(8);
    OperatorMode mode(Mode::armed);
    fill(ring);
    mode.command(Mode::safe);
    for (int i = 0; i < 3; ++i) mode.send(ring);
    EXPECT_TRUE(mode.safe_pending(Mode::armed));
    EXPECT_EQ(taken(ring), std::vector<Mode>{});
    mode.send(ring);
    EXPECT_EQ(taken(ring), std::vector{Mode::safe});
}

TEST(TheOperatorsMode, NeverLosesASafeThatAnotherModeFollowed) {
    Ring ring(8);
    OperatorMode mode(Mode::armed);
    fill(ring);
    mode.command(Mode::safe);
    mode.send(ring);
    mode.command(Mode::armed);
    mode.send(ring);
    EXPECT_TRUE(mode.safe_pending(Mode::armed)) << "the engine has not heard of it";
    taken(ring);
    mode.send(ring);
    EXPECT_EQ(taken(ring), (std::vector{Mode::safe, Mode::armed}));
    EXPECT_FALSE(mode.safe_pending(Mode::armed));
}

TEST(TheOperatorsMode, IsPendingAsSafeUntilTheEngineSaysSo) {
    Ring ring(8);
    OperatorMode mode(Mode::safe);
    EXPECT_TRUE(mode.safe_pending(Mode::armed)) << "an engine that started armed";
    EXPECT_FALSE(mode.safe_pending(Mode::safe));
    mode.command(Mode::armed);
    mode.send(ring);
    EXPECT_FALSE(mode.safe_pending(Mode::safe));
}

TEST(TheOperatorsMode, GoesToANewEngineButAForcedKeyDoesNot) {
    Ring ring(8);
    OperatorMode mode(Mode::armed);
    mode.command(Mode::safe);
    mode.send(ring);
    taken(ring);
    mode.engine_renewed();
    mode.send(ring);
    EXPECT_EQ(taken(ring), std::vector{Mode::safe});
    ASSERT_TRUE(mode.key(ring));
    EXPECT_EQ(taken(ring), std::vector{Mode::keyed});
    mode.engine_renewed();
    mode.send(ring);
    EXPECT_EQ(taken(ring), std::vector<Mode>{});
}

TEST(TheOperatorsMode, KeysAtOnceOrNotAtAll) {
    Ring ring(8);
    OperatorMode mode(Mode::armed);
    fill(ring);
    EXPECT_FALSE(mode.key(ring));
    EXPECT_EQ(mode.wanted(), Mode::armed);
    taken(ring);
    mode.send(ring);
    EXPECT_EQ(taken(ring), std::vector<Mode>{});
    mode.command(Mode::safe);
    EXPECT_FALSE(mode.key(ring)) << "a safe is still on its way";
    mode.send(ring);
    EXPECT_TRUE(mode.key(ring));
    EXPECT_EQ(taken(ring), (std::vector{Mode::safe, Mode::keyed}));
}

}  // namespace
}  // namespace tripline::service
