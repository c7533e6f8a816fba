#include "daemon/guard/confine.h"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <poll.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <fstream>
#include <functional>

namespace tripline::guard {
namespace {

struct TheConfinedGuard : testing::Test {
    void SetUp() override {
        if (::prctl(PR_GET_SECCOMP) < 0)
            GTEST_SKIP() << "nothing here filters system calls: qemu's user emulation, or a kernel without seccomp";
    }
};

/// A child that gives everything up and then does `what`.
pid_t start_confined(const std::function<void()>& what) {
    const pid_t child = ::fork();
    if (child == 0) {
        try {
            confine();
            what();
        } catch (const std::exception&) {
            ::_exit(1);
        }
        ::_exit(0);
    }
    return child;
}

/// Its wait status.
int confined(const std::function<void()>& what) {
    int status = 0;
    ::waitpid(start_confined(what), &status, 0);
    return status;
}

TEST_F(TheConfinedGuard, MayEnd) { EXPECT_EQ(confined([] {}), 0); }

TEST_F(TheConfinedGuard, IsKilledForASystemCallThatItsLoopDoesNotNeed) {
#ifdef TRIPLINE_SANITIZED
    GTEST_SKIP() << "no filter under a sanitizer";
#endif
    const std::vector<std::pair<const char*, std::function<void()>>> calls{
        {"socket", [] { (void)::socket(AF_INET, SOCK_STREAM, 0); }},
        {"open", [] { (void)::open("/dev/null", O_RDONLY); }},
        {"fork", [] { (void)::fork(); }},
        {"kill", [] { (void)::kill(1, 0); }},
        {"mmap", [] { (void)::mmap(nullptr, 4096, PROT_READ, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0); }},
        {"an ioctl of another kind", [] { (void)::tcgetpgrp(0); }}};
    for (const auto& [name, call] : calls) {
        const int status = confined(call);
        EXPECT_TRUE(WIFSIGNALED(status) && WTERMSIG(status) == SIGSYS) << name << ": " << status;
    }
}

TEST_F(TheConfinedGuard, HasNoPrivilegesLeft) {
    int pipe[2];
    ASSERT_EQ(::pipe(pipe), 0);
    const pid_t child = start_confined([&] {
        ::write(pipe[1], "", 1);
        pollfd never{-1, 0, 0};
        ::ppoll(&never, 1, nullptr, nullptr);
    });
    ::close(pipe[1]);  // so that the end of a child that cannot confine itself is the end of the wait
    char ready;
    ASSERT_EQ(::read(pipe[0], &ready, 1), 1);
    std::ifstream in("/proc/" + std::to_string(child) + "/status");
    const std::string status{std::istreambuf_iterator<char>(in), {}};
    ::kill(child, SIGKILL);
    ::waitpid(child, nullptr, 0);
    EXPECT_NE(status.find("CapEff:\t0000000000000000"), std::string::npos) << status;
    EXPECT_NE(status.find("CapPrm:\t0000000000000000"), std::string::npos);
    EXPECT_NE(status.find("NoNewPrivs:\t1"), std::string::npos);
    EXPECT_EQ(status.find("Uid:\t0"), std::string::npos) << "root gives its user up";
}

}  // namespace
}  // namespace tripline::guard
