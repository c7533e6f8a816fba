#include "daemon/service/supervisor.h"

#include "daemon/lines/descriptor.h"
#include "tests/temporary_folder.h"

#include <gtest/gtest.h>
#include <sys/socket.h>
#include <sys/un.h>

#include <cstdlib>
#include <future>

namespace tripline::service {
namespace {

/// The service manager's end of sd_notify(3).
class Manager {
public:
    Manager() : socket_(::socket(AF_UNIX, SOCK_DGRAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0)) {
        const std::string path = (folder_.path() / "notify").string();
        sockaddr_un address{};
        address.sun_family = AF_UNIX;
        path.copy(address.sun_path, path.size());
        EXPECT_EQ(::bind(socket_.get(), reinterpret_cast<const sockaddr*>(&address), sizeof address), 0);
        ::setenv("NOTIFY_SOCKET", path.c_str(), 1);
    }
    ~Manager() { ::unsetenv("NOTIFY_SOCKET"); }

    /// Everything that waits.
    std::string read() const {
        std::string all;
        char text[8192];
        for (ssize_t got = 0; (got = ::recv(socket_.get(), text, sizeof text, 0)) > 0;) all.append(text, static_cast<std::size_t>(got));
        return all;
    }

private:
    TemporaryFolder folder_;
    lines::Descriptor socket_;
};

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
