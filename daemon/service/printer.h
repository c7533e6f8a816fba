// Lines for the operator on standard output. Written by a thread of its own, so that a
// stopped terminal or a full pipe never holds up the caller.
#pragma once

#include <memory>
#include <string>

namespace tripline::service {

class Printer {
public:
    /// `descriptor` stays the caller's, and open until the process ends.
    explicit Printer(int descriptor);
    /// Waits at most 0.2 s for what is not yet written. A thread stuck in a write is left to
    /// the end of the process.
    ~Printer();
    Printer(const Printer&) = delete;
    Printer& operator=(const Printer&) = delete;

    /// One thread. Never waits for the descriptor; a line beyond 256 waiting is dropped.
    void print(std::string line);

private:
    struct Shared;
    static void write_lines(const std::shared_ptr<Shared>& shared);

    std::shared_ptr<Shared> shared_;  // with the writing thread, behind its lock
};

}  // namespace tripline::service
