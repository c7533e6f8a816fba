// Interface 2 of libgpiod.
#include "daemon/lines/gpio_chip.h"

#include <gpiod.h>

#include <cerrno>
#include <memory>

namespace tripline::lines {
namespace {

template <auto release>
struct Release {
    template <typename T>
    void operator()(T* object) const noexcept { release(object); }
};
using LineSettingsHandle = std::unique_ptr<gpiod_line_settings, Release<::gpiod_line_settings_free>>;
using LineConfigHandle = std::unique_ptr<gpiod_line_config, Release<::gpiod_line_config_free>>;
using RequestConfigHandle =
    std::unique_ptr<gpiod_request_config, Release<::gpiod_request_config_free>>;

gpiod_line_value value_of(bool high) noexcept {
    return high ? GPIOD_LINE_VALUE_ACTIVE : GPIOD_LINE_VALUE_INACTIVE;
}

bool add_output(gpiod_line_config* config, const Wire& wire) noexcept {
    const LineSettingsHandle settings(::gpiod_line_settings_new());
    return settings &&
           ::gpiod_line_settings_set_direction(settings.get(), GPIOD_LINE_DIRECTION_OUTPUT) == 0 &&
           ::gpiod_line_settings_set_output_value(settings.get(), value_of(wire.level(false))) ==
               0 &&
           ::gpiod_line_config_add_line_settings(config, &wire.settings.gpio_line, 1,
                                                 settings.get()) == 0;
}

}  // namespace

void GpioChip::request(std::span<const Wire> wires) {
    const LineConfigHandle lines(::gpiod_line_config_new());
    const RequestConfigHandle whole(::gpiod_request_config_new());
    if (!lines || !whole) throw OpenError(wires[0], ENOMEM);
    for (const Wire& wire : wires)
        if (!add_output(lines.get(), wire)) throw OpenError(wire, errno);
    ::gpiod_request_config_set_consumer(whole.get(), "tripline");
    request_ = ::gpiod_chip_request_lines(chip_, whole.get(), lines.get());
    if (!request_) throw OpenError(wires[0], errno);
}

void GpioChip::close() noexcept {
    if (request_) ::gpiod_line_request_release(request_);
    ::gpiod_chip_close(chip_);
}

Outcome GpioChip::drive(const Wire& wire, bool active) noexcept {
    const int result = ::gpiod_line_request_set_value(request_, wire.settings.gpio_line,
                                                      value_of(wire.level(active)));
    return {result < 0 ? errno : 0};
}

Reading GpioChip::read(const Wire& wire) noexcept {
    const gpiod_line_value value =
        ::gpiod_line_request_get_value(request_, wire.settings.gpio_line);
    return {{value == GPIOD_LINE_VALUE_ERROR ? errno : 0}, true,
            wire.level(true) == (value == GPIOD_LINE_VALUE_ACTIVE)};
}

int GpioChip::descriptor() const noexcept { return ::gpiod_line_request_get_fd(request_); }

}  // namespace tripline::lines
