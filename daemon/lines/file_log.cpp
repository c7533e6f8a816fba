#include "daemon/lines/file_log.h"

#include "daemon/lines/hold.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <time.h>

#include <cerrno>
#include <chrono>
#include <cstdio>

namespace tripline::lines {
namespace {

constexpr auto no_file = "it is neither a file nor a pipe: choose another place";
constexpr auto no_log = "it holds something else than a log of lines: choose another name";

// No gmtime_r: it may open the time zone file, which the guard is no longer allowed to.
int print_record(std::span<char> out, Role role, bool active) noexcept {
    timespec steady{}, wall{};
    ::clock_gettime(CLOCK_MONOTONIC, &steady);
    ::clock_gettime(CLOCK_REALTIME, &wall);
    const std::chrono::sys_seconds now{std::chrono::seconds{wall.tv_sec}};
    const auto day = std::chrono::floor<std::chrono::days>(now);
    const std::chrono::year_month_day date{day};
    const std::chrono::hh_mm_ss time{now - day};
    return std::snprintf(out.data(), out.size(),
                         "%lld.%09ld %04d-%02u-%02uT%02d:%02d:%02d.%06ldZ %s %s\n",
                         static_cast<long long>(steady.tv_sec), steady.tv_nsec,
                         static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                         static_cast<unsigned>(date.day()), static_cast<int>(time.hours().count()),
                         static_cast<int>(time.minutes().count()),
                         static_cast<int>(time.seconds().count()), wall.tv_nsec / 1000,
                         name(role).data(), active ? "active" : "rest");
}

/// Opening some devices does something: what is there is looked at first.
Descriptor open_log(const Wire& wire) {
    const char* path = wire.settings.device.c_str();
    struct stat status{};
    const bool there = ::stat(path, &status) == 0;
    if (there && !S_ISREG(status.st_mode) && !S_ISFIFO(status.st_mode))
        throw OpenError(wire, EINVAL, no_file);
    const int access = there && S_ISFIFO(status.st_mode) ? O_WRONLY : O_RDWR | O_CREAT;
    Descriptor file(::open(path, access | O_APPEND | O_CLOEXEC | O_NOCTTY | O_NONBLOCK, 0640));
    if (!file && errno == ENXIO) throw OpenError(wire, ENXIO, "nobody reads the pipe");
    if (!file) throw OpenError(wire, errno);
    return file;
}

/// Whether a file begins as print_record() writes.
bool is_log(const Descriptor& file) {
    char text[64] = {};
    if (::pread(file.get(), text, sizeof text - 1, 0) < 0) return false;
    int fraction = 0, date = 0, end = 0;
    std::sscanf(text, "%*[0-9].%n%*9[0-9]%n %*4[0-9]-%*2[0-9]-%*2[0-9]T%*2[0-9]:%*2[0-9]:%*2[0-9].%*6[0-9]Z %n",
                &fraction, &date, &end);
    return date == fraction + 9 && end == date + 29;
}

}  // namespace

FileLog::FileLog(std::span<const Wire> wires) : file_(open_log(wires[0])) {
    hold_alone(file_, wires[0]);
    struct stat status{};
    if (::fstat(file_.get(), &status) != 0) throw OpenError(wires[0], errno);
    if (S_ISREG(status.st_mode)) size_ = status.st_size;
    if (size_ > 0 && !is_log(file_))
        throw OpenError(wires[0], EEXIST, no_log);
    for (const Wire& wire : wires)
        if (const Outcome rest = drive(wire, false); !rest) throw OpenError(wire, rest.error);
}

std::string unfit_for_log(const std::string& path) {
    struct stat status{};
    if (::stat(path.c_str(), &status) != 0 || S_ISFIFO(status.st_mode)) return {};
    if (!S_ISREG(status.st_mode)) return no_file;
    const Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK));
    return status.st_size == 0 || !file || is_log(file) ? std::string() : no_log;
}

Outcome FileLog::drive(const Wire& wire, bool active) noexcept {
    char record[128];
    const int length = print_record(record, wire.role, active);
    if (size_ + length > size_limit && ::ftruncate(file_.get(), 0) == 0) size_ = 0;
    const ssize_t written = ::write(file_.get(), record, static_cast<std::size_t>(length));
    if (written < 0) return {errno};
    size_ += written;
    return {written == length ? 0 : ENOSPC};
}

}  // namespace tripline::lines
