// Keys of the lines: which wire serves which role, and its times.
#include "config/section.h"

namespace tripline::config {
namespace {

using lines::Kind;
using lines::Role;

struct RoleText {
    Role role;
    std::string table;
    std::string summary;
};

Value read_pin(const lines::LineSettings& line) {
    switch (line.kind) {
        case Kind::serial:
            return std::string(line.serial_pin == lines::SerialPin::rts ? "rts" : "dtr");
        case Kind::gpio: return std::int64_t{line.gpio_line};
        case Kind::cm108: return std::int64_t{line.cm108_pin};
        case Kind::none:
        case Kind::file: break;
    }
    return std::string();
}

void write_pin(lines::LineSettings& line, const Value& value) {
    if (const auto* number = std::get_if<std::int64_t>(&value)) {
        if (line.kind == Kind::gpio) line.gpio_line = static_cast<unsigned>(*number);
        if (line.kind == Kind::cm108) line.cm108_pin = static_cast<unsigned>(*number);
    } else if (line.kind == Kind::serial && !std::get<std::string>(value).empty()) {
        const bool dtr = std::get<std::string>(value) == "dtr";
        line.serial_pin = dtr ? lines::SerialPin::dtr : lines::SerialPin::rts;
    }
}

std::string refuse_number(const Value& value, std::int64_t least, std::int64_t most,
                          const std::string& kind) {
    const auto* number = std::get_if<std::int64_t>(&value);
    const bool good = number && *number >= least && *number <= most;
    return good ? "" : shortened(value) + " is no pin of a " + kind + " line";
}

std::string refuse_pin(const lines::LineSettings& line, const Value& value) {
    switch (line.kind) {
        case Kind::serial: {
            const auto* word = std::get_if<std::string>(&value);
            const bool good = word && (word->empty() || *word == "rts" || *word == "dtr");
            return good ? "" : shortened(value) + " is no pin of a serial line";
        }
        case Kind::gpio: return refuse_number(value, 0, 1023, "gpio");
        case Kind::cm108:
            return value == Value(std::string()) ? "" : refuse_number(value, 1, 8, "cm108");
        case Kind::none:
        case Kind::file: break;
    }
    return {};
}

void add_wire(Section& section, Role role) {
    section.choice(
        "kind", [role](auto& s) -> auto& { return line(s, role).kind; },
        {{"none", Kind::none},
         {"file", Kind::file},
         {"serial", Kind::serial},
         {"gpio", Kind::gpio},
         {"cm108", Kind::cm108}},
        "What drives the line.",
        "none: not wired. file: a log with times, no hardware. serial: RTS or DTR of a serial "
        "port. gpio: a line of a GPIO chip. cm108: a pin of a CM108-class USB sound dongle.");
    section.text(
        "device", [role](auto& s) -> auto& { return line(s, role).device; },
        "Path of the log file, serial port, GPIO chip or hidraw device.",
        "Prefer a name that stays, such as one under /dev/serial/by-id.");
    Key& pin = section.add("pin", Type::pin, "Which pin of the device.",
                           "serial: \"rts\" or \"dtr\". gpio: number of the line on the chip. "
                           "cm108: 1 to 8. Empty: the usual pin, \"rts\" or 3; gpio has none.");
    pin.read = [role](const Settings& s) { return read_pin(line(s, role)); };
    pin.write = [role](Settings& s, const Value& v) { write_pin(line(s, role), v); };
    pin.refuse = [role](const Settings& s, const Value& v) { return refuse_pin(line(s, role), v); };
}

void add_active(Section& section, Role role) {
    Key& active = section.add("active", Type::choice, "Level of the pin when the role is active.",
                              "The other level is rest: the line is driven there, not let go.");
    active.choices = {"high", "low"};
    active.read = [role](const Settings& s) {
        return Value(std::string(line(s, role).active_high ? "high" : "low"));
    };
    active.write = [role](Settings& s, const Value& v) {
        line(s, role).active_high = std::get<std::string>(v) == "high";
    };
}

template <class Access>
void add_times(Section& section, Access step, std::string lead, std::string lag) {
    section
        .number(
            "lead_ms", {0, 1000}, [step](auto& s) -> auto& { return step(s).lead; },
            std::move(lead))
        .touches = Touches::engine;
    section
        .number(
            "lag_ms", {0, 1000}, [step](auto& s) -> auto& { return step(s).lag; }, std::move(lag))
        .touches = Touches::engine;
}

Section add_line(Catalogue& catalogue, Role role, std::string table, std::string summary) {
    Section section(catalogue, std::move(table), Touches::guard, std::move(summary));
    add_wire(section, role);
    add_active(section, role);
    return section;
}

}  // namespace

void add_line_keys(Catalogue& catalogue) {
    auto ptt = add_line(catalogue, Role::ptt, "line.ptt", "Keys the transmitter.");
    add_times(
        ptt, [](auto& s) -> auto& { return s.station.sequence.ptt; },
        "Key closed to transmitter ready.", "Key open to power gone.");
    auto mute = add_line(catalogue, Role::mute, "line.mute", "Silences the receiver.");
    add_times(
        mute, [](auto& s) -> auto& { return s.station.sequence.mute; }, "Mute to receiver silent.",
        "Unmute to receiver heard.");
    auto antenna = add_line(catalogue, Role::antenna, "line.antenna",
                            "Moves the antenna relay to the transmitter.");
    add_times(
        antenna, [](auto& s) -> auto& { return s.station.sequence.antenna; },
        "Time the relay takes to operate.", "Time the relay takes to release.");
    antenna
        .number(
            "settle_ms", {0, 1000}, [](auto& s) -> auto& { return s.station.sequence.settle; },
            "Wait after the relay has operated, before the key.", "The contacts bounce out.")
        .touches = Touches::engine;
    auto alive =
        add_line(catalogue, Role::alive, "line.alive",
                 "A square wave for a hardware interlock: it stops when the program does.");
    alive.number(
        "frequency_hz", {2, 10}, [](auto& s) -> auto& { return s.guard.alive; },
        "Frequency of the square wave.");
}

}  // namespace tripline::config
