// A file that may not grow, as on a disk that is full, while it lives.
#pragma once

#include <sys/resource.h>

#include <csignal>
#include <cstdint>

namespace tripline {

/// For this process: no file grows beyond so many bytes.
class FileLimit {
public:
    explicit FileLimit(std::uint64_t bytes) {
        std::signal(SIGXFSZ, SIG_IGN);
        ::getrlimit(RLIMIT_FSIZE, &before_);
        const rlimit full{bytes, before_.rlim_max};
        ::setrlimit(RLIMIT_FSIZE, &full);
    }
    ~FileLimit() { ::setrlimit(RLIMIT_FSIZE, &before_); }
    FileLimit(const FileLimit&) = delete;
    FileLimit& operator=(const FileLimit&) = delete;

private:
    rlimit before_{};
};

}  // namespace tripline
