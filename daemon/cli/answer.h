// What came from a control socket, before it goes to a terminal.
#pragma once

#include <nlohmann/json.hpp>

#include <stdexcept>
#include <string>

namespace tripline::cli {

/// The same answer with ? for each control character in its texts. Throws nlohmann's exceptions when it is no JSON.
std::string plain_answer(const std::string& answer);

/// Runs `tell`. Throws std::runtime_error when what `socket` answered was not what the protocol says.
template <typename Tell>
auto understood(const std::string& socket, Tell tell) {
    try {
        return tell();
    } catch (const nlohmann::json::exception&) {
        throw std::runtime_error(socket + ": the answer makes no sense; is this the control socket of a station?");
    }
}

}  // namespace tripline::cli
