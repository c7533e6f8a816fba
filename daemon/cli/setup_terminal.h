// The operator of a guided session, at a terminal or behind a pipe.
#pragma once

#include "daemon/setup/guide.h"

namespace tripline::cli {

/// Questions and meters on standard output, answers from standard input. On a terminal the
/// meter is a line that moves; else a line a second in plain text.
class SetupTerminal final : public setup::Operator {
public:
    SetupTerminal();

    void tell(const std::string& line) override;
    void show(const setup::TakeLevels& levels, Duration left) override;
    void show_end() override;
    std::optional<std::string> ask(const std::string& question) override;

private:
    bool terminal_;
    bool shown_ = false;
    Duration last_{};   ///< what was left at the last plain line
};

/// "[######..........] -42 dBFS": from -70 dBFS to 0.
std::string bar(Dbfs level);

}  // namespace tripline::cli
