#include "daemon/guard/arguments.h"

#include <stdexcept>

namespace tripline::guard {
namespace {

unsigned pin_of(const lines::LineSettings& line) {
    switch (line.kind) {
        case lines::Kind::serial: return static_cast<unsigned>(line.serial_pin);
        case lines::Kind::gpio: return line.gpio_line;
        case lines::Kind::cm108: return line.cm108_pin;
        default: return 0;
    }
}

std::vector<std::string> texts_of(const Plan& plan) {
    std::vector<std::string> arguments;
    for (const lines::LineSettings& line : plan.wiring)
        arguments.push_back(std::to_string(static_cast<int>(line.kind)) + ',' +
                            std::to_string(pin_of(line)) + ',' +
                            std::to_string(int{line.active_high}) + ',' + line.device);
    std::string numbers;
    for (const Duration* time : times_of(plan)) numbers += std::to_string(time->count()) + ' ';
    arguments.push_back(numbers + std::to_string(plan.priority));
    return arguments;
}

}  // namespace

std::vector<std::string> to_arguments(const Plan& plan) {
    check(plan);
    const std::vector<std::string> arguments = texts_of(plan);
    std::vector<const char*> texts;
    for (const std::string& argument : arguments) texts.push_back(argument.c_str());
    if (texts_of(from_arguments(texts)) != arguments)
        throw std::invalid_argument("the guard would read another plan");
    return arguments;
}

}  // namespace tripline::guard
