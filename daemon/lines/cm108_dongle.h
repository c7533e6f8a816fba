// Pins of a CM108-class USB sound dongle, through hidraw.
#pragma once

#include "daemon/lines/descriptor.h"
#include "daemon/lines/device.h"

namespace tripline::lines {

/// Every change is one output report: 00, 00, levels, directions, 00; pin n is bit n - 1.
/// The second byte stays 0: with its top bits at 10 the levels would be written to the
/// dongle's EEPROM. A pin stays as it is when the device is closed or the process killed,
/// and it cannot be read back.
class Cm108Dongle final : public Device {
public:
    explicit Cm108Dongle(std::span<const Wire> wires);
    Outcome drive(const Wire& wire, bool active) noexcept override;
    Reading read(const Wire&) noexcept override { return {}; }
    int descriptor() const noexcept override { return dongle_.get(); }

private:
    void note(const Wire& wire, bool active) noexcept;
    Outcome write_pins() noexcept;

    Descriptor dongle_;
    unsigned char levels_ = 0;
    unsigned char outputs_ = 0;
};

}  // namespace tripline::lines
