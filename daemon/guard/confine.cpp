#include "daemon/guard/confine.h"

#include <grp.h>
#include <linux/capability.h>
#include <linux/gpio.h>
#include <linux/hidraw.h>
#include <sched.h>
#include <seccomp.h>
#include <sys/ioctl.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/signalfd.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstring>
#include <system_error>

namespace tripline::guard {
namespace {

constexpr unsigned nobody = 65534;

void require(bool done, const char* what) {
    if (!done) throw std::system_error(errno, std::generic_category(), what);
}

void drop_privileges() {
    if (::geteuid() == 0) {
        require(::setgroups(0, nullptr) == 0, "setgroups");
        require(::setresgid(nobody, nobody, nobody) == 0, "setresgid");
        require(::setresuid(nobody, nobody, nobody) == 0, "setresuid");
    }
    require(::prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0, "no_new_privs");
    ::prctl(PR_CAP_AMBIENT, PR_CAP_AMBIENT_CLEAR_ALL, 0, 0, 0);
    __user_cap_header_struct header{_LINUX_CAPABILITY_VERSION_3, 0};
    const __user_cap_data_struct none[_LINUX_CAPABILITY_U32S_3]{};
    require(::syscall(SYS_capset, &header, none) == 0, "capset");
    // After the change of user, which would clear it.
    require(::prctl(PR_SET_PDEATHSIG, SIGTERM, 0, 0, 0) == 0, "parent death signal");
}

void filter_system_calls() {
    // A filter's memory is left to the end of the process: freeing it may call the kernel.
    const scmp_filter_ctx filter = ::seccomp_init(SCMP_ACT_KILL_PROCESS);
    const auto allow = [&](int call) {
        require(::seccomp_rule_add(filter, SCMP_ACT_ALLOW, call, 0) == 0, "seccomp rule");
    };
    for (const int call : {SCMP_SYS(ppoll), SCMP_SYS(ppoll_time64), SCMP_SYS(recvfrom),
                           SCMP_SYS(sendto), SCMP_SYS(write), SCMP_SYS(ftruncate),
                           SCMP_SYS(clock_gettime), SCMP_SYS(clock_gettime64),
                           SCMP_SYS(restart_syscall), SCMP_SYS(exit_group)})
        allow(call);
    for (const unsigned long request :
         {static_cast<unsigned long>(TIOCMGET), static_cast<unsigned long>(TIOCMBIS),
          static_cast<unsigned long>(TIOCMBIC), GPIOHANDLE_SET_LINE_VALUES_IOCTL,
          GPIOHANDLE_GET_LINE_VALUES_IOCTL, GPIO_V2_LINE_SET_VALUES_IOCTL,
          GPIO_V2_LINE_GET_VALUES_IOCTL})
        require(::seccomp_rule_add(filter, SCMP_ACT_ALLOW, SCMP_SYS(ioctl), 1,
                                   SCMP_A1(SCMP_CMP_EQ, request)) == 0, "seccomp rule");
    require(::seccomp_load(filter) == 0, "seccomp filter");
}

}  // namespace

int take_signals() {
    ::signal(SIGPIPE, SIG_IGN);
    ::signal(SIGXFSZ, SIG_IGN);
    ::signal(SIGHUP, SIG_IGN);
    sigset_t ending;
    ::sigemptyset(&ending);
    ::sigaddset(&ending, SIGTERM);
    ::sigaddset(&ending, SIGINT);
    require(::sigprocmask(SIG_BLOCK, &ending, nullptr) == 0, "sigprocmask");
    const int signals = ::signalfd(-1, &ending, SFD_CLOEXEC | SFD_NONBLOCK);
    require(signals >= 0, "signalfd");
    return signals;
}

std::string ask_for_speed(int priority) {
    std::string refused;
    if (::mlockall(MCL_CURRENT | MCL_FUTURE) != 0)
        refused += std::string("memory is not locked: ") + std::strerror(errno) +
                   " (raise LimitMEMLOCK); ";
    const sched_param wanted{priority};
    if (priority > 0 && ::sched_setscheduler(0, SCHED_FIFO | SCHED_RESET_ON_FORK, &wanted) != 0)
        refused += std::string("no real-time priority: ") + std::strerror(errno) +
                   " (raise LimitRTPRIO); ";
    return refused;
}

void confine() {
    drop_privileges();
#ifndef TRIPLINE_SANITIZED  // sanitizers call the kernel as they please
    filter_system_calls();
#endif
}

}  // namespace tripline::guard
