#include "tests/vm/trace.h"

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <regex>
#include <sstream>
#include <stdexcept>

namespace tripline::shack {
namespace {

constexpr unsigned gpio_line = 3;       ///< as in guest/config
constexpr unsigned long dongle_bit = 4; ///< GPIO 3 of HID_OR1
constexpr unsigned long rts_bit = 4;    ///< TIOCM_RTS
constexpr unsigned long dtr_bit = 2;    ///< TIOCM_DTR

unsigned long field(const std::string& text, const std::string& name) {
    const auto at = text.find(" " + name + "=");
    if (at == std::string::npos) throw std::runtime_error("no " + name + " in: " + text);
    return std::stoul(text.substr(at + name.size() + 2), nullptr, 0);
}

}  // namespace

Trace::Trace(const std::string& path) {
    std::ifstream in(path);
    const std::regex line_form(R"(^.{16}-\d+\s+\[\d+\]\s+\S+\s+(\d+\.\d+): (\w+): (.*)$)");
    std::smatch match;
    for (std::string line; std::getline(in, line);) {
        if (std::regex_match(line, match, line_form)) take(std::stod(match[1]), match[2], match[3]);
    }
    if (marks_.empty()) throw std::runtime_error(path + ": no mark of the guest's in it");
}

void Trace::take(double at, const std::string& name, const std::string& rest) {
    const std::string sign = "shack ";
    if (name == "tracing_mark_write" && rest.starts_with(sign)) {
        marks_.push_back({at, rest.substr(sign.size())});
        if (marks_.back().text == "dongle gone") change(at, Wire::dongle, false);  // and its pins' power with it
    } else if (name == "signal_generate") {
        marks_.push_back({at, "told to stop"});
    } else if (name == "suspend_resume") {
        if (rest == "suspend_enter[3] begin") marks_.push_back({at, "the kernel begins to suspend"});
        if (rest == "machine_suspend[3] end") marks_.push_back({at, "the machine has woken"});
    } else if (name == "gpio_set" || name == "gpio_out") {
        if (field(rest, "line") == gpio_line) change(at, Wire::gpio, field(rest, "level") != 0);
    } else if (name == "gpio_sets") {
        if ((field(rest, "mask") >> gpio_line) & 1U) change(at, Wire::gpio, (field(rest, "bits") >> gpio_line) & 1U);
    } else if (name == "gpio_free") {
        if (field(rest, "line") == gpio_line) change(at, Wire::gpio, false);  // pulled down
    } else if (name == "serial") {
        change(at, Wire::rts, field(rest, "mctrl") & rts_bit);
        change(at, Wire::dtr, field(rest, "mctrl") & dtr_bit);
    } else if (name == "hid") {
        change(at, Wire::dongle, field(rest, "b2") & dongle_bit);
    }
}

void Trace::change(double at, Wire wire, bool on) { changes_.push_back({at, wire, on}); }

std::optional<double> Trace::at(const std::string& mark, double after) const {
    for (const auto& made : marks_) {
        if (made.text == mark && made.at >= after) return made.at;
    }
    return std::nullopt;
}

std::optional<double> Trace::last(const std::string& mark) const {
    std::optional<double> found;
    for (const auto& made : marks_) {
        if (made.text == mark) found = made.at;
    }
    return found;
}

std::string Trace::word_after(const std::string& beginning) const {
    std::string word;
    for (const auto& made : marks_) {
        if (made.text.starts_with(beginning + " ")) word = made.text.substr(beginning.size() + 1);
    }
    return word;
}

std::optional<double> Trace::next(Wire wire, bool on, double after) const {
    for (const auto& change : changes_) {
        if (change.wire == wire && change.on == on && change.at >= after) return change.at;
    }
    return std::nullopt;
}

bool Trace::level(Wire wire, double at) const {
    bool on = false;
    for (const auto& change : changes_) {
        if (change.wire == wire && change.at <= at) on = change.on;
    }
    return on;
}

std::optional<double> Trace::at_rest(double after) const {
    const auto quiet = [&](double at) { return std::ranges::none_of(all_wires, [&](Wire wire) { return level(wire, at); }); };
    if (quiet(after)) return after;
    for (const auto& change : changes_) {
        if (change.at > after && quiet(change.at)) return change.at;
    }
    return std::nullopt;
}

std::vector<Change> Trace::between(Wire wire, double from, double to) const {
    std::vector<Change> found;
    bool on = level(wire, from);
    for (const auto& change : changes_) {
        if (change.wire != wire || change.at <= from || change.at > to || change.on == on) continue;
        found.push_back(change);
        on = change.on;
    }
    return found;
}

std::string results() {
    const char* folder = std::getenv("SHACK_RESULTS");
    if (!folder) throw std::runtime_error("SHACK_RESULTS does not say where the guest left its results");
    return folder;
}

std::string result(const std::string& name) {
    std::ifstream in(results() + "/" + name);
    if (!in) throw std::runtime_error("the guest left no " + name);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

const Trace& trace() {
    static const Trace read(results() + "/trace.log");
    return read;
}

}  // namespace tripline::shack
