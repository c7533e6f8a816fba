// What the package's scripts ask of the system, with pretended tools for users and groups.
#include "tests/temporary_folder.h"

#include <gtest/gtest.h>

#include <cstdlib>

namespace tripline::structure {
namespace {

/// What was asked of addgroup and adduser by `preinst install` on a system with these groups, a line each.
std::string asked_with_groups(const std::string& groups) {
    const TemporaryFolder tools;
    tools.write("getent", "#!/bin/sh\n[ \"$1\" = group ] || exit 2\nfor g in " + groups + "; do [ \"$g\" = \"$2\" ] && exit 0; done\nexit 2\n");
    for (const char* tool : {"adduser", "addgroup"}) tools.write(tool, "#!/bin/sh\necho \"${0##*/} $*\" >> \"" + (tools / "asked") + "\"\n");
    for (const char* tool : {"getent", "adduser", "addgroup"}) std::filesystem::permissions(tools / tool, std::filesystem::perms::owner_all);
    const std::string run = "PATH='" + tools.path().string() + ":'$PATH sh '" SOURCE_FOLDER "/daemon/packaging/preinst' install";
    EXPECT_EQ(std::system(run.c_str()), 0);
    return tools.read("asked");
}

TEST(ThePackage, MakesItsUserAndGroup) {
    const std::string asked = asked_with_groups("audio dialout");
    EXPECT_NE(asked.find("addgroup --system --quiet tripline\n"), std::string::npos) << asked;
    EXPECT_NE(asked.find("adduser --system --quiet --ingroup tripline"), std::string::npos) << asked;
    EXPECT_EQ(asked.find("gpio"), std::string::npos) << asked;
}

TEST(ThePackage, LetsItsUserAtGpioChipsThatTheSystemGivesToAGroupOfTheirOwn) {
    const std::string asked = asked_with_groups("tripline gpio");
    EXPECT_NE(asked.find("adduser --quiet tripline gpio\n"), std::string::npos) << asked;
}

}  // namespace
}  // namespace tripline::structure
