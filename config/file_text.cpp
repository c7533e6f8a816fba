#include "config/file_text.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <system_error>

namespace tripline::config {
namespace {

class Descriptor {
public:
    explicit Descriptor(int fd) : fd_(fd) {}
    ~Descriptor() {
        if (fd_ >= 0) ::close(fd_);
    }
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    int get() const { return fd_; }

private:
    int fd_;
};

FileText failure(int error) {
    return {{}, "can't be read: " + std::generic_category().message(error)};
}

}  // namespace

FileText read_file_text(const std::filesystem::path& file, std::size_t most) {
    const Descriptor fd(::open(file.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY));
    if (fd.get() < 0) return failure(errno);
    struct stat status {};
    if (::fstat(fd.get(), &status) != 0) return failure(errno);
    if (S_ISDIR(status.st_mode)) return failure(EISDIR);
    if (!S_ISREG(status.st_mode)) return {{}, "can't be read: it is not a regular file"};
    FileText text;
    constexpr std::size_t piece = 64 * 1024;
    std::size_t got = 0;
    while (got <= most) {
        text.content.resize(std::min(most + 1, got + piece));
        const auto n = ::read(fd.get(), text.content.data() + got, text.content.size() - got);
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) return failure(errno);
        if (n == 0) break;
        got += static_cast<std::size_t>(n);
    }
    text.content.resize(got);
    return text;
}

}  // namespace tripline::config
