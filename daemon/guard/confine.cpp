#include "daemon/guard/confine.h"

#include <grp.h>
#include <linux/capability.h>
#include <linux/gpio.h>
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
#include <system_error>

namespace tripline::guard {
namespace {

constexpr unsigned nobody = 65534;
constexpr bool sanitized = TRIPLINE_SANITIZED;

/// For libseccomp, which returns a negative errno.
void require_zero(int result, const char* what) {
    errno = -result;
    require(result == 0, what);
}

void drop_privileges() {
    if (::geteuid() == 0)
        require(::setgroups(0, nullptr) == 0 && ::setresgid(nobody, nobody, nobody) == 0 &&
                    ::setresuid(nobody, nobody, nobody) == 0, "change of user");
    require(::prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0, "no_new_privs");
    __user_cap_header_struct header{_LINUX_CAPABILITY_VERSION_3, 0};
    const __user_cap_data_struct none[_LINUX_CAPABILITY_U32S_3]{};
    require(::syscall(SYS_capset, &header, none) == 0, "capset");
    // After the change of user, which would clear it.
    require(::prctl(PR_SET_PDEATHSIG, SIGTERM, 0, 0, 0) == 0, "parent death signal");
}

void filter_system_calls() {
    // A filter's memory is left to the end of the process: freeing it may call the kernel.
    const scmp_filter_ctx filter = ::seccomp_init(SCMP_ACT_KILL_PROCESS);
    for (const int call :
         {SCMP_SYS(clock_gettime), SCMP_SYS(clock_gettime64), SCMP_SYS(clock_nanosleep), SCMP_SYS(clock_nanosleep_time64),
          SCMP_SYS(ppoll), SCMP_SYS(ppoll_time64), SCMP_SYS(recvfrom), SCMP_SYS(recv), SCMP_SYS(sendto), SCMP_SYS(send),
          SCMP_SYS(write), SCMP_SYS(ftruncate), SCMP_SYS(restart_syscall), SCMP_SYS(exit_group), SCMP_SYS(pidfd_send_signal)})
        require_zero(::seccomp_rule_add(filter, SCMP_ACT_ALLOW, call, 0), "system call");
    for (const scmp_datum_t request :
         {scmp_datum_t{TIOCMGET}, scmp_datum_t{TIOCMBIS}, scmp_datum_t{TIOCMBIC},
          scmp_datum_t{GPIOHANDLE_SET_LINE_VALUES_IOCTL}, scmp_datum_t{GPIO_V2_LINE_SET_VALUES_IOCTL},
          scmp_datum_t{GPIOHANDLE_GET_LINE_VALUES_IOCTL}, scmp_datum_t{GPIO_V2_LINE_GET_VALUES_IOCTL}}) {
        const scmp_arg_cmp same{1, SCMP_CMP_EQ, request, 0};
        require_zero(::seccomp_rule_add_array(filter, SCMP_ACT_ALLOW, SCMP_SYS(ioctl), 1, &same), "ioctl");
    }
    require_zero(::seccomp_load(filter), "system call filter");
}

}  // namespace

void require(bool done, const char* what) {
    if (!done) throw std::system_error(errno, std::generic_category(), what);
}

int take_signals() {
    sigset_t all, ending{};
    ::sigfillset(&all);
    require(::sigprocmask(SIG_BLOCK, &all, nullptr) == 0, "sigprocmask");
    for (const int signal : {SIGTERM, SIGINT, SIGQUIT}) ::sigaddset(&ending, signal);
    const int signals = ::signalfd(-1, &ending, SFD_CLOEXEC | SFD_NONBLOCK);
    require(signals >= 0, "signalfd");
    return signals;
}

std::string ask_for_speed(int priority) {
    std::string refused;
    // What is there now: the loop maps nothing new. (A sanitizer maps terabytes.)
    if (!sanitized && ::mlockall(MCL_CURRENT) != 0) refused = "its memory is not locked (LimitMEMLOCK=infinity lets it)";
    const sched_param wanted{priority};
    if (priority > 0 && ::sched_setscheduler(0, SCHED_FIFO | SCHED_RESET_ON_FORK, &wanted) != 0)
        refused += std::string(refused.empty() ? "" : "; ") + "it has no real-time priority (LimitRTPRIO=99 lets it)";
    return refused;
}

void confine() {
    drop_privileges();
    if (!sanitized) filter_system_calls();  // a sanitizer calls the kernel as it pleases
}

}  // namespace tripline::guard
