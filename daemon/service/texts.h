// Words for what the daemon reports about itself.
#pragma once

#include "daemon/guard/client.h"
#include "daemon/service/keying_rule.h"
#include "daemon/service/messages.h"
#include "daemon/service/phase.h"

#include <string>
#include <utility>
#include <vector>

namespace tripline::service {

struct Line {
    Message message;
    std::vector<std::string> arguments;
};

/// For systemd's STATUS.
std::string status_text(Phase phase, Trouble present, const std::string& absence);
/// What is worth a line when the guard's status goes from one to the other.
std::vector<Line> guard_lines(const guard::Status& before, const guard::Status& after);

}  // namespace tripline::service
