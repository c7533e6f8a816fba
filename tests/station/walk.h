// Walks the station through every order of inputs, breadth first, until nothing new comes.
#pragma once

#include "daemon/station/logic.h"
#include "daemon/station/names.h"
#include "tests/station/witness.h"

#include <string>
#include <unordered_map>
#include <vector>

namespace tripline::station::test {

/// All that can come in between two hops.
struct Input {
    dsp::Heard heard;
    bool finite = true;
    bool fault = false;
    bool reload = false;
    std::vector<Mode> commands;
};

inline std::vector<Input> all_inputs() {
    using dsp::Cause;
    const auto heard = [](bool voice, bool held, Cause cause) {
        dsp::Heard h;
        h.voice = voice, h.held = held, h.cause = cause;
        return h;
    };
    const std::vector verdicts{heard(false, false, Cause::quiet), heard(true, true, Cause::voice),
                               heard(false, true, Cause::quiet), heard(true, true, Cause::steady),
                               heard(false, false, Cause::blanked)};
    const std::vector<std::vector<Mode>> commands{
        {}, {Mode::armed}, {Mode::safe}, {Mode::keyed}, {Mode::safe, Mode::keyed}};
    std::vector<Input> inputs;
    for (const dsp::Heard& verdict : verdicts)
        for (const auto& command : commands)
            for (unsigned set = 0; set < 4; ++set)
                inputs.push_back({verdict, true, (set & 1) != 0, (set & 2) != 0, command});
    for (const auto& command : commands)
        for (unsigned set = 0; set < 4; ++set)
            inputs.push_back({heard(false, false, Cause::not_finite), false, (set & 1) != 0,
                              (set & 2) != 0, command});
    return inputs;
}

/// The station with its witnesses. Time is in ticks of a quarter of a second.
class Node final : private EventSink {
public:
    static constexpr Hertz rate{8000};
    static constexpr std::int64_t tick = 2000;
    static std::int64_t ticks(Duration time) { return to_frames(time, rate).count / tick; }

    explicit Node(const Settings& settings)
        : logic_(settings, rate),
          witness_(times_of(settings, ticks)),
          promises_(ticks(settings.limits.quiet_to_clear)) {}

    /// One hop; returns what went wrong, or nullptr.
    const char* hop(const Input& input) {
        wrong_ = nullptr;
        commanded_ = pending_ || !input.commands.empty();
        for (const Mode mode : input.commands) logic_.set_mode(mode);
        pending_ = input.commands.size() == 2;  // safe now, the other mode a hop later
        logic_.set_fault(input.fault);
        logic_.set_reload(input.reload);
        promises_.hear(input.heard, 1);
        unclean_ = input.finite ? std::max<std::int64_t>(0, unclean_ - 1) : 1;
        forbidden_ = input.fault || input.reload || unclean_ > 0;
        stood_ = false;
        now_ += 1;
        logic_.hop({now_ * tick}, input.heard, input.finite, *this);
        stand();
        note(promises_.broken(logic_.lines()));
        if (std::count(input.commands.begin(), input.commands.end(), Mode::safe) > 0 &&
            logic_.lines().ptt)
            note("a safe was lost");
        note(witness_.rest_of(now_));
        return wrong_;
    }

    State state() const { return logic_.state(); }
    Lock lock() const { return logic_.lock(); }
    Mode mode() const { return logic_.mode(); }

    /// Equal keys behave alike for ever.
    std::string key() const {
        std::string key;
        const auto add = [&](std::int64_t value) { key.push_back(static_cast<char>(value)); };
        const Clocks clocks = logic_.clocks();
        add(static_cast<int>(state()) | (lock().quiet ? 16 : 0) | (lock().command ? 32 : 0));
        add(static_cast<int>(mode()) | (pending_ ? 4 : 0));
        add(std::min<std::int64_t>(clocks.in_state.count / tick, 4));
        add(std::min<std::int64_t>(clocks.on_air.count / tick, 100));
        add(std::min<std::int64_t>(clocks.quiet.count / tick, 4));
        add(clocks.unclean.count / tick);
        add(unclean_);
        for (const std::int64_t value : promises_.key()) add(value);
        for (const std::int64_t value : witness_.ages(now_)) add(value);
        return key;
    }

private:
    void take(const Event& event) noexcept override {
        if (event.kind == EventKind::mode) return;
        stand();
        if (event.kind != EventKind::state) return;
        promises_.see(event);
        note(witness_.see(event, now_));
    }
    void stand() {
        if (!stood_) promises_.stand(logic_.mode(), commanded_, forbidden_);
        stood_ = true;
    }
    void note(const char* wrong) { wrong_ = wrong_ != nullptr ? wrong_ : wrong; }

    Logic logic_;
    Witness witness_;
    Promises promises_;
    std::int64_t now_ = 0;
    std::int64_t unclean_ = 0;
    bool pending_ = false;
    bool commanded_ = false;
    bool forbidden_ = false;
    bool stood_ = false;
    const char* wrong_ = nullptr;
};

/// The whole graph of what can happen.
class Walk {
public:
    explicit Walk(const Settings& settings) {
        const std::vector<Input> inputs = all_inputs();
        discover(Node(settings));
        for (std::size_t at = 0; at < nodes.size() && wrong.empty(); ++at)
            for (const Input& input : inputs) {
                Node after = nodes[at];
                if (const char* what = after.hop(input)) wrong = describe(nodes[at], after, what);
                const std::size_t to = discover(after);
                if (before[to].empty() || before[to].back() != at) before[to].push_back(at);
                ++steps;
            }
    }

    /// Nodes from which a node that satisfies `target` can be reached.
    template <typename Target>
    std::size_t count_that_reach(Target target) const {
        std::vector<bool> reaches(nodes.size());
        std::vector<std::size_t> open;
        const auto mark = [&](std::size_t node) {
            if (!reaches[node]) open.push_back(node);
            reaches[node] = true;
        };
        for (std::size_t i = 0; i < nodes.size(); ++i)
            if (target(nodes[i])) mark(i);
        for (std::size_t done = 0; done < open.size(); ++done)
            for (const std::size_t from : before[open[done]]) mark(from);
        return open.size();
    }

    std::vector<Node> nodes;
    std::vector<std::vector<std::size_t>> before;
    std::size_t steps = 0;
    std::string wrong;

private:
    std::size_t discover(const Node& node) {
        const auto [found, fresh] = known_.try_emplace(node.key(), nodes.size());
        if (fresh) {
            nodes.push_back(node);
            before.emplace_back();
        }
        return found->second;
    }

    static std::string describe(const Node& from, const Node& to, const char* what) {
        return std::string{what} + ", from " + std::string{name(from.state())} + " in mode " +
               std::string{name(from.mode())} + " to " + std::string{name(to.state())} +
               " in mode " + std::string{name(to.mode())};
    }

    std::unordered_map<std::string, std::size_t> known_;
};

}  // namespace tripline::station::test
