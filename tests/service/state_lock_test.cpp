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
    EXPECT_NO_THROW(StateLock{""});
    EXPECT_NO_THROW(StateLock{"/nowhere"});
}

}  // namespace
}  // namespace tripline::service
