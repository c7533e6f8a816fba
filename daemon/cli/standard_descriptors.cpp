#include "daemon/cli/standard_descriptors.h"

#include <fcntl.h>
#include <unistd.h>

namespace tripline::cli {

bool fill_standard_descriptors() noexcept {
    int opened = 0;
    do {
        opened = ::open("/dev/null", O_RDWR);  // the lowest number that is free
    } while (opened >= 0 && opened <= STDERR_FILENO);
    if (opened < 0) return false;
    ::close(opened);
    return true;
}

}  // namespace tripline::cli
