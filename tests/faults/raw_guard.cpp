#include "tests/faults/raw_guard.h"

#include "daemon/guard/arguments.h"

#include <poll.h>
#include <spawn.h>
#include <sys/socket.h>
#include <sys/wait.h>

#include <algorithm>
#include <csignal>
#include <stdexcept>

namespace tripline::faults {

RawGuard::RawGuard(guard::Plan plan,
                   const std::function<void(const std::filesystem::path&)>& prepare,
                   const std::vector<std::string>& environment) {
    if (prepare) prepare(folder.path);
    for (auto& line : plan.wiring)
        line = {.kind = lines::Kind::file, .device = folder.path / "lines"};
    plan.wiring[lines::index(lines::Role::alive)].device = folder.path / "alive" / "log";
    int pair[2];
    if (::socketpair(AF_UNIX, SOCK_SEQPACKET | SOCK_CLOEXEC, 0, pair) != 0)
        throw std::runtime_error("no socket");
    socket_ = lines::Descriptor(pair[0]);
    const lines::Descriptor theirs(pair[1]);
    posix_spawn_file_actions_t files;
    ::posix_spawn_file_actions_init(&files);
    ::posix_spawn_file_actions_adddup2(&files, theirs.get(), 3);
    std::vector<std::string> texts = guard::to_arguments(plan);
    std::vector<char*> arguments{const_cast<char*>("tripline-guard")};
    for (std::string& text : texts) arguments.push_back(text.data());
    arguments.push_back(nullptr);
    std::vector<char*> variables;
    for (const std::string& text : environment) variables.push_back(const_cast<char*>(text.c_str()));
    variables.push_back(nullptr);
    const int error =
        ::posix_spawn(&pid_, GUARD_PROGRAM, &files, nullptr, arguments.data(), variables.data());
    ::posix_spawn_file_actions_destroy(&files);
    if (error != 0) throw std::runtime_error("no guard");
}

RawGuard::~RawGuard() {
    socket_ = lines::Descriptor();
    for (int i = 0; i < 500; ++i, ::poll(nullptr, 0, 1))
        if (::waitpid(pid_, nullptr, WNOHANG) == pid_) return;
    ::kill(pid_, SIGKILL);
    ::waitpid(pid_, nullptr, 0);
}

bool RawGuard::send(std::span<const std::byte> message) const {
    return ::send(socket_.get(), message.data(), message.size(), MSG_NOSIGNAL | MSG_DONTWAIT) >= 0;
}

void RawGuard::order(station::Lines wanted, Duration time) {
    for (const Instant end = now() + time; now() < end;) {
        send(guard::bytes(next(wanted)));
        const auto left = std::chrono::ceil<std::chrono::milliseconds>(
            std::min<Duration>(end - now(), guard::heartbeat));
        ::poll(nullptr, 0, std::max(0, static_cast<int>(left.count())));
    }
}

Instant RawGuard::key() {
    if (!reports(guard::Condition::silent)) throw std::runtime_error("guard not ready");
    order(guard::at_rest, 10ms);
    const Instant ordered = now();
    order(guard::keyed, 100ms);
    if (!lines.wait("ptt", true, ordered, 1ms)) throw std::runtime_error("not keyed");
    return ordered;
}

bool RawGuard::reports_one_of(const std::vector<guard::Condition>& conditions, Duration timeout) const {
    for (const Instant end = now() + timeout; now() < end; ::poll(nullptr, 0, 1)) {
        guard::Notice buffer;  // the largest message
        while (::recv(socket_.get(), &buffer, sizeof buffer, MSG_DONTWAIT) ==
               static_cast<ssize_t>(sizeof(guard::Report))) {
            guard::Report report;
            std::memcpy(static_cast<void*>(&report), &buffer, sizeof report);
            if (guard::sound(report) && std::ranges::find(conditions, report.condition) != conditions.end()) return true;
        }
    }
    return false;
}

}  // namespace tripline::faults
