// The control socket and the page of the installed service.
#include "tests/vm/trace.h"

#include <gtest/gtest.h>

namespace tripline::shack {
namespace {

bool holds(const std::string& text, const std::string& words) { return text.find(words) != std::string::npos; }

TEST(TheInstalledControlSocket, IsOpenToItsGroupAlone) {
    const std::string log = result("desk.log");
    EXPECT_TRUE(log.starts_with("srw-rw---- tripline tripline\n")) << log;
    const auto at = log.find("--- --clear-groups tripline status\n");
    ASSERT_NE(at, std::string::npos) << log;
    const std::string outsider = log.substr(at);
    EXPECT_TRUE(holds(outsider, "Permission denied; the operator has to be in the group tripline")) << outsider;
}

TEST(TheInstalledControlSocket, IsSteeredByAnybodyInItsGroup) {
    const std::string log = result("desk.log");
    const auto safe = log.find(" tripline safe\n"), arm = log.find(" tripline arm\n");
    ASSERT_NE(safe, std::string::npos) << log;
    ASSERT_NE(arm, std::string::npos) << log;
    EXPECT_TRUE(holds(log.substr(0, safe), "armed")) << log;
    EXPECT_TRUE(holds(log.substr(safe, arm - safe), "mode") && holds(log.substr(safe, arm - safe), "safe")) << log;
    EXPECT_FALSE(holds(log.substr(arm), "refused")) << log;
}

TEST(TheInstalledPage, IsServedOnlyWithTheNetworkThatTheManualTellsHowToGive) {
    EXPECT_TRUE(holds(result("override.log"), "PrivateNetwork=no"));
    const std::string page = result("page.log");
    EXPECT_TRUE(page.starts_with("HTTP/1.1 200 ")) << page.substr(0, 500);
    EXPECT_TRUE(holds(page, "<html")) << page.substr(0, 500);
    EXPECT_FALSE(holds(result("page-without-network.log"), "HTTP/1.1")) << "the unit as shipped has no network";
}

}  // namespace
}  // namespace tripline::shack
