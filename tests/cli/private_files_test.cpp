// Recordings of a room are not for everybody on the computer.
#include "daemon/cli/private_files.h"

#include <gtest/gtest.h>

namespace tripline::cli {
namespace {

/// The mask that a process with `before` gets.
mode_t after(mode_t before) {
    const mode_t own = ::umask(before);
    keep_files_private();
    return ::umask(own);
}

TEST(FilesOfTheDaemon, AreClosedToOthers) {
    EXPECT_EQ(after(0022), 0027U);
    EXPECT_EQ(after(0), 0027U);
}

TEST(FilesOfTheDaemon, StayAsPrivateAsTheyWere) { EXPECT_EQ(after(0077), 0077U); }

}  // namespace
}  // namespace tripline::cli
