#include "daemon/guard/judge.h"

#include <algorithm>

namespace tripline::guard {

Judge::Judge(const Plan& plan) noexcept
    : silence_(plan.silence), longest_(plan.longest),
      mute_wired_(wired(plan.wiring, lines::Role::mute)), antenna_wired_(wired(plan.wiring, lines::Role::antenna)) {}

bool Judge::take(std::span<const std::byte> message, Instant now) noexcept {
    if (ended()) return false;
    pass(now);  // an order that comes too late does not undo its lateness
    Order order;
    const Condition verdict = flooded(now) ? Condition::flood : examine(message, order);
    if (verdict != Condition::good) {
        condition_ = verdict;
        trusted_ = now + distrust;
        return false;
    }
    heard_ = now;
    if (condition_ != Condition::good && (order.ptt || now < trusted_)) return false;
    condition_ = Condition::good;
    if (order.ptt && !wanted_.ptt) keyed_ = now;
    wanted_ = {order.ptt == 1, order.mute == 1, order.antenna == 1};
    return order.alive == 1;
}

Condition Judge::examine(std::span<const std::byte> message, Order& order) noexcept {
    if (message.size() != sizeof order) return Condition::malformed;
    std::memcpy(&order, message.data(), sizeof order);
    if (!sound(order) || std::max({order.ptt, order.mute, order.antenna, order.alive}) > 1) return Condition::malformed;
    const bool in_turn = !started_ || order.sequence == sequence_ + 1;
    started_ = true;
    sequence_ = order.sequence;
    if (!in_turn) return Condition::malformed;
    if ((order.ptt && antenna_wired_ && !order.antenna) ||
        ((order.ptt || order.antenna) && mute_wired_ && !order.mute))
        return Condition::contradictory;
    return Condition::good;
}

bool Judge::flooded(Instant now) noexcept {
    if (now - window_ >= flood_window) {
        window_ = now;
        in_window_ = 0;
    }
    return ++in_window_ > flood_limit;
}

void Judge::pass(Instant now) noexcept {
    if (condition_ != Condition::good) return;
    if (now - heard_ >= silence_) condition_ = Condition::silent;
    if (wanted_.ptt && now - keyed_ >= longest_) condition_ = Condition::too_long;
}

void Judge::fail(Condition final) noexcept {
    if (condition_ != Condition::line_failed) condition_ = final;
}

bool Judge::ended() const noexcept {
    return condition_ == Condition::line_failed || condition_ == Condition::stopped;
}

station::Lines Judge::wanted() const noexcept {
    return condition_ == Condition::good ? wanted_ : station::Lines{};
}

Instant Judge::due() const noexcept {
    if (condition_ != Condition::good) return Instant::max();
    return std::min(heard_ + silence_, wanted_.ptt ? keyed_ + longest_ : Instant::max());
}

}  // namespace tripline::guard
