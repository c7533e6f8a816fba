#include "daemon/service/printer.h"

#include <gtest/gtest.h>

#include <fcntl.h>
#include <unistd.h>

#include <array>
#include <chrono>
#include <string>

namespace tripline::service {
namespace {

using Clock = std::chrono::steady_clock;

struct Pipe {
    Pipe() { EXPECT_EQ(::pipe2(ends.data(), O_CLOEXEC), 0); }
    /// Until a further byte would wait.
    void fill() {
        ::fcntl(ends[1], F_SETFL, O_NONBLOCK);
        while (::write(ends[1], "x", 1) == 1) {
        }
        ::fcntl(ends[1], F_SETFL, 0);
    }
    // Left open: a writer stuck in it may outlive the test.
    std::array<int, 2> ends{-1, -1};
};

TEST(APrinter, WritesItsLinesInOrderBeforeItEnds) {
    const Pipe pipe;
    {
        Printer printer(pipe.ends[1]);
        printer.print("key closed");
        printer.print("key open");
    }
    std::array<char, 64> text{};
    const ssize_t count = ::read(pipe.ends[0], text.data(), text.size());
    ASSERT_GT(count, 0);
    EXPECT_EQ(std::string(text.data(), static_cast<std::size_t>(count)), "key closed\nkey open\n");
}

TEST(APrinter, HoldsUpNobodyWhenItsPipeIsFull) {
    Pipe pipe;
    pipe.fill();
    const auto start = Clock::now();
    {
        Printer printer(pipe.ends[1]);
        for (int i = 0; i < 10'000; ++i) printer.print("key closed");
    }
    EXPECT_LT(Clock::now() - start, std::chrono::seconds{3});
}

}  // namespace
}  // namespace tripline::service
