// What the guest's kernel was asked to do to the wires, and when.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace tripline::shack {

enum class Wire { gpio, rts, dtr, dongle };
inline constexpr std::array all_wires{Wire::gpio, Wire::rts, Wire::dtr, Wire::dongle};

/// A wire's level as its driver was told; `at` is the guest's CLOCK_MONOTONIC in seconds.
struct Change {
    double at = 0;
    Wire wire = Wire::gpio;
    bool on = false;
};

/// A word from the guest's scripts, in the same trace.
struct Mark {
    double at = 0;
    std::string text;
};

class Trace {
public:
    /// Reads the text of the kernel's trace file. Throws std::runtime_error if it holds no mark.
    explicit Trace(const std::string& path);

    /// When the mark was first made at or after a time, if it was. A SIGTERM to the daemon is the mark "told to stop",
    /// the kernel's first and last act of a sleep are "the kernel begins to suspend" and "the machine has woken".
    std::optional<double> at(const std::string& mark, double after = 0) const;
    /// When the mark was last made, if it was.
    std::optional<double> last(const std::string& mark) const;
    /// The word that follows in the last mark that begins so.
    std::string word_after(const std::string& beginning) const;
    /// First change of the wire to this level at or after a time.
    std::optional<double> next(Wire wire, bool on, double after) const;
    bool level(Wire wire, double at) const;
    /// The first moment at or after a time with every wire off.
    std::optional<double> at_rest(double after) const;
    /// The wire's changes of level within a time, writes that changed nothing left out.
    std::vector<Change> between(Wire wire, double from, double to) const;

private:
    void take(double at, const std::string& name, const std::string& rest);
    void change(double at, Wire wire, bool on);

    std::vector<Change> changes_;
    std::vector<Mark> marks_;
};

/// Folder with what the guest left; throws std::runtime_error if SHACK_RESULTS does not name one.
std::string results();
/// A file of that folder as text; throws std::runtime_error if it cannot be read.
std::string result(const std::string& name);
const Trace& trace();

}  // namespace tripline::shack
