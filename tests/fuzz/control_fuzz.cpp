// Any bytes as what a client of the control socket may say, in pieces of any size: lines are
// bounded, and each is a request that changes nothing by itself, or a mistake told in words.
#include "daemon/control/line_reader.h"
#include "daemon/control/request.h"
#include "daemon/control/words.h"

#include <algorithm>
#include <cstdlib>

namespace {

using namespace tripline::control;

void require(bool holds) {
    if (!holds) std::abort();
}

void take(const std::string& line) {
    require(line.size() <= longest_line && line.find('\n') == std::string::npos);
    const Parsed parsed = parse(line);
    if (const auto* wrong = std::get_if<std::string>(&parsed)) {
        require(!wrong->empty() && mistake(*wrong).find('\n') == std::string::npos);
        return;
    }
    const auto& request = std::get<Request>(parsed);
    require(request.verb != Verb::saved);
    require(request.is_safe() || request.mode != tripline::station::Mode::safe || request.verb != Verb::mode);
    require(answer(request, {false, request.key + request.value}).find('\n') == std::string::npos);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0) return 0;
    const std::size_t piece = data[0] + std::size_t{1};
    std::string_view bytes(reinterpret_cast<const char*>(data) + 1, size - 1);
    LineReader reader;
    while (!bytes.empty() && !reader.too_long()) {
        reader.push(bytes.substr(0, piece));
        bytes.remove_prefix(std::min(piece, bytes.size()));
        while (const auto line = reader.next()) take(*line);
    }
    return 0;
}
