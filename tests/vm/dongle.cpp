// shack_dongle: a USB sound dongle's HID part (CM108 class) made through /dev/uhid. It is there
// while this program runs. Each output report is printed with CLOCK_MONOTONIC.
// Report layout: C-Media CM108 data sheet, HID_IR0..3 in, HID_OR0..3 out.
#include <fcntl.h>
#include <linux/uhid.h>
#include <time.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstdio>
#include <cstring>

namespace {

constexpr auto report_descriptor = std::to_array<unsigned char>({
    0x05, 0x0c, 0x09, 0x01, 0xa1, 0x01,                          // consumer control
    0x15, 0x00, 0x25, 0x01, 0x09, 0xe9, 0x09, 0xea, 0x09, 0xe2,  // volume up, down, mute
    0x75, 0x01, 0x95, 0x03, 0x81, 0x02, 0x95, 0x05, 0x81, 0x01,  // fills HID_IR0
    0x06, 0x00, 0xff, 0x09, 0x01, 0x15, 0x00, 0x26, 0xff, 0x00,  // vendor page: bytes
    0x75, 0x08, 0x95, 0x03, 0x81, 0x02,                          // HID_IR1 to HID_IR3
    0x09, 0x01, 0x75, 0x08, 0x95, 0x04, 0x91, 0x02, 0xc0});       // HID_OR0 to HID_OR3

double now() {
    timespec t{};
    clock_gettime(CLOCK_MONOTONIC, &t);
    return static_cast<double>(t.tv_sec) + static_cast<double>(t.tv_nsec) * 1e-9;
}

bool send(int fd, const uhid_event& event) {
    return write(fd, &event, sizeof event) == static_cast<ssize_t>(sizeof event);
}

bool plug_in(int fd) {
    uhid_event event{};
    event.type = UHID_CREATE2;
    auto& device = event.u.create2;
    std::strcpy(reinterpret_cast<char*>(device.name), "Bench dongle");
    std::strcpy(reinterpret_cast<char*>(device.phys), "usb-bench-1/input3");
    std::memcpy(device.rd_data, report_descriptor.data(), report_descriptor.size());
    device.rd_size = report_descriptor.size();
    device.bus = 3;  // USB
    device.vendor = 0x0d8c;
    device.product = 0x000c;
    return send(fd, event);
}

void answer(int fd, const uhid_event& request) {
    uhid_event reply{};
    if (request.type == UHID_SET_REPORT) {
        reply.type = UHID_SET_REPORT_REPLY;
        reply.u.set_report_reply.id = request.u.set_report.id;
    } else {
        reply.type = UHID_GET_REPORT_REPLY;
        reply.u.get_report_reply.id = request.u.get_report.id;
        reply.u.get_report_reply.err = EIO;
    }
    if (!send(fd, reply)) std::perror("reply");
}

void print_report(const uhid_event& event) {
    std::printf("%.6f", now());
    for (int i = 0; i < event.u.output.size; ++i) std::printf(" %02x", event.u.output.data[i]);
    std::puts("");
}

}  // namespace

int main() {
    const int fd = open("/dev/uhid", O_RDWR | O_CLOEXEC);
    if (fd < 0 || !plug_in(fd)) {
        std::perror("/dev/uhid");
        return 1;
    }
    setvbuf(stdout, nullptr, _IOLBF, 0);
    for (uhid_event event{}; read(fd, &event, sizeof event) > 0; event = {}) {
        if (event.type == UHID_OUTPUT) print_report(event);
        if (event.type == UHID_SET_REPORT || event.type == UHID_GET_REPORT) answer(fd, event);
    }
    std::perror("read");
    return 1;
}
