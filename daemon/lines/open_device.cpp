#include "daemon/lines/device.h"
#include "daemon/lines/file_log.h"

#include <cerrno>

namespace tripline::lines {

std::unique_ptr<Device> open_device(std::span<const Wire> wires) {
    switch (wires[0].settings.kind) {
        case Kind::file: return std::make_unique<FileLog>(wires);
        case Kind::serial:
        case Kind::gpio:
        case Kind::cm108:
        case Kind::none: break;
    }
    throw OpenError(wires[0], ENOSYS);
}

}  // namespace tripline::lines
