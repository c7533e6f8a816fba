// A program under test as a child process, with a pipe to it and one from it.
#pragma once

#include "daemon/lines/descriptor.h"
#include "dsp/units.h"

#include <sys/types.h>

#include <string>
#include <vector>

namespace tripline::faults {

using std::chrono_literals::operator""s;

class Child {
public:
    /// arguments[0] is the program's path. `environment`: NAME=value, added to this one's.
    explicit Child(const std::vector<std::string>& arguments,
                   const std::vector<std::string>& environment = {});
    /// Ends its input and gives it half a second to end; kills it then, and reaps it.
    ~Child();
    Child(const Child&) = delete;
    Child& operator=(const Child&) = delete;

    pid_t pid() const noexcept { return pid_; }
    void signal(int number) const;
    void say(const std::string& line) const;
    /// Next line of its standard output that starts with `start`; empty: none in time.
    std::string hear(const std::string& start, Duration timeout = 3s);
    /// Waits for its end and returns the wait status; -1: not in time.
    int wait(Duration timeout = 3s);

private:
    pid_t pid_ = -1;
    bool reaped_ = false;
    lines::Descriptor to_, from_;
    std::string heard_;
};

}  // namespace tripline::faults
