#include "daemon/audio/priority.h"

#include <sched.h>
#include <sys/mman.h>

#include <cerrno>
#include <cstring>

namespace tripline::audio {

namespace {

Granted read_back(int thread) {
    const int policy = ::sched_getscheduler(thread) & ~SCHED_RESET_ON_FORK;
    sched_param param{};
    ::sched_getparam(thread, &param);
    return {.real_time = policy == SCHED_FIFO || policy == SCHED_RR, .priority = param.sched_priority, .refusal = {}};
}

}  // namespace

Granted ask_priority(int thread, int priority) {
    if (priority == 0 || read_back(thread).real_time) return read_back(thread);
    sched_param param{};
    param.sched_priority = priority;
    std::string refusal;
    if (::sched_setscheduler(thread, SCHED_FIFO | SCHED_RESET_ON_FORK, &param) != 0) refusal = std::strerror(errno);
    Granted granted = read_back(thread);
    granted.refusal = refusal;
    return granted;
}

std::string lock_memory() {
    return ::mlockall(MCL_CURRENT | MCL_ONFAULT) == 0 ? std::string() : std::strerror(errno);
}

}  // namespace tripline::audio
