#include "tests/faults/child.h"

#include "tests/faults/line_log.h"

#include <fcntl.h>
#include <poll.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <stdexcept>

extern char** environ;

namespace tripline::faults {
namespace {

std::vector<char*> pointers(const std::vector<std::string>& texts) {
    std::vector<char*> result;
    for (const std::string& text : texts) result.push_back(const_cast<char*>(text.c_str()));
    result.push_back(nullptr);
    return result;
}

}  // namespace

Child::Child(const std::vector<std::string>& arguments,
             const std::vector<std::string>& environment) {
    int to[2], from[2];
    if (::pipe2(to, O_CLOEXEC) != 0 || ::pipe2(from, O_CLOEXEC) != 0)
        throw std::runtime_error("no pipe");
    std::vector<std::string> variables(environment);
    for (char** variable = environ; *variable; ++variable) variables.emplace_back(*variable);
    posix_spawn_file_actions_t files;
    ::posix_spawn_file_actions_init(&files);
    ::posix_spawn_file_actions_adddup2(&files, to[0], STDIN_FILENO);
    ::posix_spawn_file_actions_adddup2(&files, from[1], STDOUT_FILENO);
    const int error = ::posix_spawn(&pid_, arguments[0].c_str(), &files, nullptr,
                                    pointers(arguments).data(), pointers(variables).data());
    ::posix_spawn_file_actions_destroy(&files);
    ::close(to[0]);
    ::close(from[1]);
    to_ = lines::Descriptor(to[1]);
    from_ = lines::Descriptor(from[0]);
    if (error != 0) throw std::runtime_error("cannot run " + arguments[0]);
}

Child::~Child() {
    to_ = lines::Descriptor();
    ::kill(pid_, SIGCONT);
    if (reaped_ || wait(std::chrono::milliseconds(500)) != -1) return;
    ::kill(pid_, SIGKILL);
    ::waitpid(pid_, nullptr, 0);
}

void Child::signal(int number) const { ::kill(pid_, number); }

void Child::say(const std::string& line) const {
    const std::string text = line + "\n";
    if (::write(to_.get(), text.data(), text.size()) < 0) throw std::runtime_error("pipe closed");
}

std::string Child::hear(const std::string& start, Duration timeout) {
    for (const Instant end = now() + timeout; now() < end;) {
        for (auto eol = heard_.find('\n'); eol != std::string::npos; eol = heard_.find('\n')) {
            const std::string line = heard_.substr(0, eol);
            heard_.erase(0, eol + 1);
            if (line.starts_with(start)) return line;
        }
        pollfd entry{from_.get(), POLLIN, 0};
        if (::poll(&entry, 1, 10) <= 0) continue;
        char buffer[4096];
        const ssize_t size = ::read(from_.get(), buffer, sizeof buffer);
        if (size <= 0) break;
        heard_.append(buffer, static_cast<std::size_t>(size));
    }
    return {};
}

int Child::wait(Duration timeout) {
    int status = -1;
    for (const Instant end = now() + timeout; now() < end && !reaped_; ::poll(nullptr, 0, 1))
        reaped_ = ::waitpid(pid_, &status, WNOHANG) == pid_;
    return reaped_ ? status : -1;
}

}  // namespace tripline::faults
