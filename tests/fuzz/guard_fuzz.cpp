// Any bytes as what a guard may get: messages at any times, or its command line. The first
// byte chooses. Whatever comes, the key is closed only on sound orders of the last 250 ms,
// never without mute and antenna, never longer than the limit, never on a moving relay.
#include "daemon/guard/arguments.h"
#include "daemon/guard/stepper.h"
#include "tests/guard/orders.h"

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <stdexcept>

namespace {

using namespace tripline;
using namespace tripline::guard;

void require(bool holds) {
    if (!holds) std::abort();
}

/// Takes bytes off the front of the input; zeros when there are none left.
struct Input {
    std::span<const std::uint8_t> left;
    std::uint8_t byte() {
        if (left.empty()) return 0;
        const std::uint8_t value = left[0];
        left = left.subspan(1);
        return value;
    }
    std::span<const std::uint8_t> bytes(std::size_t count) {
        const auto taken = left.first(std::min(count, left.size()));
        left = left.subspan(taken.size());
        return taken;
    }
};

Plan plan_of_files() {
    Plan plan;
    for (auto& line : plan.wiring) line = {.kind = lines::Kind::file, .device = "log"};
    plan.longest = 1s;
    return plan;
}

class World {
public:
    /// One step: time goes by; then nothing, an order, a spoilt order, or raw bytes come.
    void step(Input& input) {
        now_ += std::chrono::milliseconds(input.byte());
        const std::uint8_t what = input.byte();
        if (what % 8 < 4) {
            const station::Lines wanted{(what & 8) != 0, (what & 16) != 0, (what & 32) != 0};
            Order next = order(judge_.sequence() + (what % 8 == 3 ? 2 : 1), wanted);
            if (what % 8 == 2) reinterpret_cast<std::uint8_t*>(&next)[input.byte() % 16] ^= 1;
            take(std::as_bytes(std::span(&next, 1)));
        } else if (what % 8 < 6) {
            take(std::as_bytes(input.bytes(input.byte() % 32)));
        }
        judge_.pass(now_);
        check(stepper_.next(judge_.wanted(), now_));
    }

private:
    void take(std::span<const std::byte> message) {
        if (!judge_.take(message, now_)) return;
        Order taken;
        require(message.size() == sizeof taken);
        std::memcpy(static_cast<void*>(&taken), message.data(), sizeof taken);
        require(sound(taken));
        heard_ = now_;
    }

    void check(const station::Lines& lines) {
        if (lines.ptt) {
            require(lines.mute && lines.antenna && judge_.wanted().ptt);
            require(now_ - heard_ < 250ms);
            if (!before_.ptt) {
                require(now_ - moved_ >= plan_.steps.antenna.lead + plan_.steps.settle);
                keyed_ = now_;
            }
            require(now_ - keyed_ < plan_.longest);
        }
        if (!lines.ptt && before_.ptt) opened_ = now_;
        if (lines.antenna != before_.antenna) {
            require(!lines.ptt && (lines.antenna || now_ - opened_ >= plan_.steps.ptt.lag));
            moved_ = now_;
        }
        if (!lines.mute) require(!lines.antenna && !lines.ptt);
        before_ = lines;
    }

    Plan plan_ = plan_of_files();
    Judge judge_{plan_};
    Stepper stepper_{plan_.steps};
    station::Lines before_;
    Instant now_ = 10s, heard_{}, moved_{}, opened_{}, keyed_{};
};

void try_arguments(std::span<const std::uint8_t> data) {
    std::vector<std::string> texts(1);
    for (const std::uint8_t byte : data)
        if (byte == 0) texts.emplace_back();
        else texts.back() += static_cast<char>(byte);
    std::vector<const char*> pointers;
    for (const std::string& text : texts) pointers.push_back(text.c_str());
    try {
        const Plan plan = from_arguments(pointers);
        require(plan.silence <= 250ms && plan.longest <= 7200s);
        to_arguments(plan);
    } catch (const std::invalid_argument&) {
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    Input input{{data, size}};
    if (input.byte() % 4 == 1) {
        try_arguments(input.left);
        return 0;
    }
    World world;
    while (!input.left.empty()) world.step(input);
    return 0;
}
