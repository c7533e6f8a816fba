// The line that needs no hardware: a log of what a real one would have done.
#pragma once

#include "daemon/lines/descriptor.h"
#include "daemon/lines/device.h"

#include <cstdint>
#include <string>

namespace tripline::lines {

/// A regular file or a pipe with a reader. Appends one text line a change:
///
///     <CLOCK_MONOTONIC, s> <UTC, ISO 8601> <role> <active|rest>
///     5133.402117551 2026-11-25T13:30:00.123456Z ptt active
///
/// The file never grows beyond `size_limit`: it starts over then. One that holds anything else
/// is refused. A write that fails or falls short (disk full) is reported as the line's failure.
class FileLog final : public Device {
public:
    static constexpr std::int64_t size_limit = 8 << 20;

    explicit FileLog(std::span<const Wire> wires);
    Outcome drive(const Wire& wire, bool active) noexcept override;
    Reading read(const Wire&) noexcept override { return {}; }
    int descriptor() const noexcept override { return -1; }

private:
    Descriptor file_;
    std::int64_t size_ = 0;
};

/// Why what is at a path cannot be gone on with as a log of lines; empty where it can, and where nothing is. For whoever
/// is to say so before a guard is started; changes nothing.
std::string unfit_for_log(const std::string& path);

}  // namespace tripline::lines
