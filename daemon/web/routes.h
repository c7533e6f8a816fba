// What the page asks for, answered from the desk.
#pragma once

#include "daemon/control/desk.h"
#include "daemon/study/study.h"

#include <cstdint>
#include <functional>
#include <string>
#include <variant>

namespace tripline::web {

struct Answer {
    unsigned status = 200;
    std::string type = "application/json";
    std::string body;
};

/// An answer that takes its time.
struct Later {
    std::function<Answer()> answer;  ///< by any one thread, once
    bool of_safe = false;            ///< it waits for the guard alone, half a second at most
};

/// For the server's thread.
class Routes {
public:
    /// `study`: null when no sound is kept. `may_transmit`: whether mode keyed is passed on.
    Routes(control::Desk& desk, study::Study* study, bool may_transmit)
        : desk_(desk), study_(study), may_transmit_(may_transmit) {}

    /// `since`: for levels, the number that the answer before gave as the next.
    Answer get(const std::string& path, std::uint64_t since) const;
    /// A change is on its way when this returns, a safe like any other; its outcome is known only later.
    std::variant<Answer, Later> post(const std::string& path, const std::string& body) const;

private:
    Answer status() const;
    Answer levels(std::uint64_t since) const;
    std::variant<Answer, Later> change(const std::string& body) const;
    std::variant<Answer, Later> put(const control::Request& request) const;
    Answer try_thresholds(const std::string& body) const;
    Answer begin_study(study::Study::Subject subject, const std::string& body) const;

    control::Desk& desk_;
    study::Study* study_;
    bool may_transmit_;
};

}  // namespace tripline::web
