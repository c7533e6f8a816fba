#include "daemon/guard/kept_plan.h"

#include "daemon/guard/arguments.h"

#include <gtest/gtest.h>
#include <stdlib.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <system_error>

namespace tripline::guard {
namespace {

struct TheKeptPlan : testing::Test {
    std::string folder = testing::TempDir() + "tripline-kept-" + std::to_string(::getpid());
    Plan plan;
    void SetUp() override {
        std::filesystem::create_directory(folder);
        plan.wiring[0] = {.kind = lines::Kind::cm108, .device = "/dev/shack dongle, left", .cm108_pin = 4, .active_high = false};
        plan.steps.ptt.lag = 33ms;
    }
    void TearDown() override { std::filesystem::remove_all(folder); }
};

TEST_F(TheKeptPlan, ComesBackWhole) {
    keep_plan(plan, folder);
    const auto back = kept_plan(folder);
    ASSERT_TRUE(back);
    EXPECT_EQ(to_arguments(*back), to_arguments(plan));
}

TEST_F(TheKeptPlan, IsReplacedWhole) {
    keep_plan(plan, folder);
    keep_plan({}, folder);
    EXPECT_EQ(to_arguments(kept_plan(folder).value()), to_arguments({}));
    EXPECT_EQ(std::distance(std::filesystem::directory_iterator(folder), {}), 1);
}

TEST_F(TheKeptPlan, IsNoneWhereNoneWasKept) { EXPECT_FALSE(kept_plan(folder)); }

TEST_F(TheKeptPlan, ThatMakesNoSenseIsNamed) {
    keep_plan(plan, folder);
    for (const char* text : {"", "0,0,1,\n", "nonsense\n1\n2\n3\n4\n"}) {
        std::ofstream(folder + "/lines-in-force") << text;
        EXPECT_THROW(kept_plan(folder), std::runtime_error);
    }
}

TEST_F(TheKeptPlan, ThatCannotBeKeptDoesNotLeaveTheOneBefore) {
    keep_plan(plan, folder);
    std::filesystem::create_directory(folder + "/lines-in-force.new");
    EXPECT_THROW(keep_plan({}, folder), std::system_error);
    EXPECT_FALSE(kept_plan(folder));
}

TEST_F(TheKeptPlan, IsForgotten) {
    keep_plan(plan, folder);
    forget_plan(folder);
    EXPECT_FALSE(kept_plan(folder));
}

TEST_F(TheKeptPlan, IsInTheFirstFolderOfTheServiceManager) {
    ::setenv("STATE_DIRECTORY", "/var/lib/one:/var/lib/two", 1);
    EXPECT_EQ(state_folder(), "/var/lib/one");
    ::unsetenv("STATE_DIRECTORY");
    EXPECT_EQ(state_folder(), "");
}

}  // namespace
}  // namespace tripline::guard
