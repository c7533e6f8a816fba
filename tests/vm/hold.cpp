// shack_hold serial PATH | gpio PATH LINE: takes a serial port or a GPIO line for itself, says
// "held", and keeps it until it is killed: what another program on the station's computer may do.
#include <fcntl.h>
#include <linux/gpio.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <string_view>

namespace {

bool hold_serial(int fd) { return ioctl(fd, TIOCEXCL) == 0; }

bool hold_gpio(int fd, unsigned line) {
    gpio_v2_line_request request{};
    request.offsets[0] = line;
    request.num_lines = 1;
    request.config.flags = GPIO_V2_LINE_FLAG_INPUT;
    std::strcpy(request.consumer, "another program");
    return ioctl(fd, GPIO_V2_GET_LINE_IOCTL, &request) == 0;
}

}  // namespace

int main(int count, char** words) {
    const std::string_view kind = count > 1 ? words[1] : "";
    if (!(kind == "serial" && count == 3) && !(kind == "gpio" && count == 4)) {
        std::fputs("shack_hold serial PATH | gpio PATH LINE\n", stderr);
        return 2;
    }
    const int fd = open(words[2], O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC);
    const bool held = fd >= 0 && (kind == "serial" ? hold_serial(fd)
                                                   : hold_gpio(fd, static_cast<unsigned>(std::atoi(words[3]))));
    if (!held) {
        std::perror(words[2]);
        return 1;
    }
    std::puts("held");
    std::fflush(stdout);
    pause();
    return 0;
}
