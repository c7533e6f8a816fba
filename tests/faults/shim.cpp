// Loaded into the guard (see shim.h): stands before open, write, clock_gettime, ppoll and
// the heap of the C library, and goes on to the kernel itself.
#include "tests/faults/shim.h"

#include <fcntl.h>
#include <poll.h>
#include <sys/mman.h>
#include <sys/syscall.h>
#include <time.h>
#include <unistd.h>

#include <cerrno>
#include <cstdarg>
#include <cstdlib>
#include <cstring>

extern "C" {
void* __libc_malloc(size_t);
void* __libc_calloc(size_t, size_t);
void* __libc_realloc(void*, size_t);
void __libc_free(void*);
}

namespace {

tripline::faults::Shim* shim = nullptr;
int alive_log = -1;
bool waited = false;  // this process; the backstop waits before the guard does

__attribute__((constructor)) void map_shim() {
    const char* path = std::getenv("TRIPLINE_SHIM");
    if (!path || std::strcmp(program_invocation_short_name, "tripline-guard") != 0) return;
    const long file = ::syscall(SYS_openat, AT_FDCWD, path, O_RDWR | O_CLOEXEC, 0);
    if (file < 0) return;
    void* memory = ::mmap(nullptr, sizeof *shim, PROT_READ | PROT_WRITE, MAP_SHARED,
                          static_cast<int>(file), 0);
    ::close(static_cast<int>(file));
    if (memory != MAP_FAILED) shim = static_cast<tripline::faults::Shim*>(memory);
}

std::int64_t nanoseconds(const timespec& time) {
    return time.tv_sec * 1'000'000'000 + time.tv_nsec;
}

void step(timespec& time, std::int64_t by) {
    const std::int64_t total = nanoseconds(time) + by;
    time = {total / 1'000'000'000, total % 1'000'000'000};
}

void count_allocation() {
    if (shim && waited) ++shim->allocations;
}

/// A driver that waits for its hardware: nothing but SIGKILL ends it, and the test sends none.
void pause_briefly() {
    timespec left{0, 1'000'000};
    ::syscall(SYS_ppoll, nullptr, 0, &left, nullptr, 8);
}

bool ends_in_alive_log(const char* path) {
    const size_t length = std::strlen(path);
    return length >= 9 && std::strcmp(path + length - 9, "alive/log") == 0;
}

}  // namespace

extern "C" {

int open(const char* path, int flags, ...) {
    va_list more;
    va_start(more, flags);
    const int mode = flags & O_CREAT ? va_arg(more, int) : 0;
    va_end(more);
    const int file = static_cast<int>(::syscall(SYS_openat, AT_FDCWD, path, flags, mode));
    if (ends_in_alive_log(path)) alive_log = file;
    return file;
}

ssize_t write(int file, const void* data, size_t size) {
    const bool hangs = shim && shim->write_hangs;
    const bool fails = shim && shim->write_errno != 0 && shim->writes_to_fail != 0;
    if (file != alive_log || (!hangs && !fails)) return ::syscall(SYS_write, file, data, size);
    timespec time{};
    ::syscall(SYS_clock_gettime, CLOCK_MONOTONIC, &time);
    if (shim->write_failed_ns == 0) shim->write_failed_ns = nanoseconds(time);
    while (shim->write_hangs) pause_briefly();
    if (hangs) return ::syscall(SYS_write, file, data, size);
    if (shim->writes_to_fail > 0) --shim->writes_to_fail;
    errno = shim->write_errno;
    return -1;
}

int clock_gettime(clockid_t clock, timespec* time) {
    const long result = ::syscall(SYS_clock_gettime, clock, time);
    if (shim && clock == CLOCK_BOOTTIME) step(*time, shim->boottime_step_ns);
    if (shim && clock == CLOCK_REALTIME) step(*time, shim->realtime_step_ns);
    return static_cast<int>(result);
}

int ppoll(pollfd* entries, nfds_t count, const timespec* timeout, const sigset_t* mask) {
    if (shim) ++shim->waits;
    waited = true;
    constexpr std::size_t signal_set = 8;             // bytes of the kernel's own
    timespec left = timeout ? *timeout : timespec{};  // the kernel writes into it
    return static_cast<int>(
        ::syscall(SYS_ppoll, entries, count, timeout ? &left : nullptr, mask, signal_set));
}

void* malloc(size_t size) {
    count_allocation();
    return __libc_malloc(size);
}

void* calloc(size_t count, size_t size) {
    count_allocation();
    return __libc_calloc(count, size);
}

void* realloc(void* memory, size_t size) {
    count_allocation();
    return __libc_realloc(memory, size);
}

void free(void* memory) {
    count_allocation();
    __libc_free(memory);
}

}  // extern "C"
