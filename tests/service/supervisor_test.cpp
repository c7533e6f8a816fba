#include "daemon/service/supervisor.h"

#include "tests/service/manager.h"

#include <gtest/gtest.h>

#include <future>

namespace tripline::service {
namespace {

TEST(TheSupervisor, TellsWhatItHasToTell) {
    const Manager manager;
    Supervisor supervisor;
    supervisor.ready();
    supervisor.status("running");
    supervisor.status("running");
    supervisor.stopping();
    EXPECT_EQ(manager.read(), "READY=1\nSTATUS=running\nSTOPPING=1\n");
}

TEST(TheSupervisor, NeitherWaitsForAManagerThatDoesNotReadNorForgetsWhatItHadToTell) {
    const Manager manager;
    Supervisor supervisor;
    auto told = std::async(std::launch::async, [&] {
        for (int i = 0; i < 2000; ++i) supervisor.status(std::to_string(i));
    });
    const bool waits = told.wait_for(std::chrono::seconds{10}) != std::future_status::ready;
    EXPECT_FALSE(waits);
    for (std::string more = "?"; waits && told.wait_for(std::chrono::seconds{0}) != std::future_status::ready;) more = manager.read();
    manager.read();
    supervisor.ready();
    EXPECT_NE(manager.read().find("READY=1\n"), std::string::npos);
}

TEST(TheSupervisor, DoesNothingWithoutAManager) {
    ::unsetenv("NOTIFY_SOCKET");
    Supervisor supervisor;
    supervisor.ready();
    ::setenv("NOTIFY_SOCKET", std::string(500, '/').c_str(), 1);
    supervisor.status("running");
    ::unsetenv("NOTIFY_SOCKET");
}

}  // namespace
}  // namespace tripline::service
