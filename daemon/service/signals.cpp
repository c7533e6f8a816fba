#include "daemon/service/signals.h"

#include <poll.h>
#include <signal.h>
#include <sys/signalfd.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <system_error>

namespace tripline::service {

namespace {

volatile std::sig_atomic_t status_at_alarm = 0;

}  // namespace

Signals::Signals(HangUp hang_up) : hang_up_(hang_up) {
    ::signal(SIGPIPE, SIG_IGN);
    ::signal(SIGXFSZ, SIG_IGN);  // a file over its limit fails like a full disk
    sigset_t set;
    ::sigemptyset(&set);
    for (const int number : {SIGTERM, SIGINT, SIGQUIT, SIGHUP, SIGUSR1, SIGUSR2}) ::sigaddset(&set, number);
    if (hang_up == HangUp::stops)
        for (const int number : {SIGTSTP, SIGCONT}) ::sigaddset(&set, number);
    ::pthread_sigmask(SIG_BLOCK, &set, nullptr);
    descriptor_ = lines::Descriptor{::signalfd(-1, &set, SFD_NONBLOCK | SFD_CLOEXEC)};
    if (descriptor_.get() < 0) throw std::system_error(errno, std::generic_category(), "signalfd");
}

Signals::Caught Signals::wait(Duration longest) const {
    pollfd waiting{.fd = descriptor_.get(), .events = POLLIN, .revents = 0};
    ::poll(&waiting, 1, static_cast<int>(longest / std::chrono::milliseconds{1}));
    Caught caught;
    signalfd_siginfo info{};
    while (::read(descriptor_.get(), &info, sizeof info) == static_cast<ssize_t>(sizeof info)) {
        switch (info.ssi_signo) {
            case SIGHUP:
                if (hang_up_ == HangUp::stops) caught.stop = SIGHUP;
                else caught.reload = true;
                break;
            case SIGUSR1: caught.safe = true; break;
            case SIGUSR2: caught.arm = true; break;
            case SIGTSTP: caught.suspend = true; break;
            case SIGCONT: break;  // it goes on already
            default: caught.stop = static_cast<int>(info.ssi_signo);
        }
    }
    return caught;
}

void Signals::stand_still() {
    sigset_t set;
    ::sigemptyset(&set);
    ::sigaddset(&set, SIGCONT);
    constexpr timespec at_once{};
    if (::sigtimedwait(&set, nullptr, &at_once) == SIGCONT) return;
    ::sigemptyset(&set);
    ::sigaddset(&set, SIGTSTP);
    ::pthread_sigmask(SIG_UNBLOCK, &set, nullptr);
    ::raise(SIGTSTP);
    ::pthread_sigmask(SIG_BLOCK, &set, nullptr);
}

void Signals::leave_at_alarm(int status) {
    status_at_alarm = status;
    ::signal(SIGALRM, [](int) { ::_exit(static_cast<int>(status_at_alarm)); });
}

}  // namespace tripline::service
