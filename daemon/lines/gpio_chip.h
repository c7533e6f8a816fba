// Lines of a GPIO chip, through libgpiod. The class has two implementations, for the
// library's interfaces 1 and 2; the build takes the one that is installed.
#pragma once

#include "daemon/lines/device.h"

#include <array>

struct gpiod_chip;
struct gpiod_line;
struct gpiod_line_request;

namespace tripline::lines {

/// Requests its lines as outputs at rest. Their state is undefined once they are closed.
class GpioChip final : public Device {
public:
    explicit GpioChip(std::span<const Wire> wires);
    ~GpioChip() override;
    Outcome drive(const Wire& wire, bool active) noexcept override;
    Reading read(const Wire& wire) noexcept override;
    int descriptor() const noexcept override;

private:
    void request(std::span<const Wire> wires);
    void close() noexcept;

    gpiod_chip* chip_ = nullptr;
    [[maybe_unused]] std::array<gpiod_line*, all_roles.size()> lines_{};  // by role; interface 1
    [[maybe_unused]] gpiod_line_request* request_ = nullptr;              // interface 2
};

}  // namespace tripline::lines
