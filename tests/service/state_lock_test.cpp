// One daemon a state folder.
#include "daemon/service/state_lock.h"
#include "tests/temporary_folder.h"

#include <gtest/gtest.h>

#include <optional>
#include <stdexcept>

namespace tripline::service {
namespace {

TEST(AStateFolder, IsOneDaemonsUntilItEnds) {
    const TemporaryFolder folder;
    std::optional<StateLock> first(std::in_place, folder.path().string());
    EXPECT_THROW(StateLock{folder.path().string()}, std::runtime_error);
    first.reset();
    EXPECT_NO_THROW(StateLock{folder.path().string()});
}

TEST(AStateFolder, IsNotNeeded) {
    EXPECT_EQ(StateLock{""}.failure(), "");
}

TEST(AStateFolder, ThatCannotBeHeldIsTold) {
    EXPECT_EQ(StateLock{"/nowhere"}.failure(), "/nowhere/in-use: No such file or directory");
}

}  // namespace
}  // namespace tripline::service
