#include "daemon/prove/run.h"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <exception>
#include <mutex>
#include <numeric>
#include <thread>

namespace tripline::prove {
namespace {

using Clock = std::chrono::steady_clock;

Verdict judge(const Item& item) {
    const auto began = Clock::now();
    Verdict verdict;
    verdict.name = item.name;
    try {
        replay::Recording recording(item.source);
        verdict.result = replay::examine(recording, item.source, item.settings, item.labels, {});
        verdict.checks = replay::make_report({verdict.result}, item.limits).checks;
    } catch (const std::exception& error) {
        verdict.error = error.what();
    }
    verdict.took = Clock::now() - began;
    return verdict;
}

/// The largest first: a long recording begun last would keep one core busy alone.
std::vector<std::size_t> order_of(const std::vector<Item>& items) {
    std::vector<std::uintmax_t> sizes;
    for (const Item& item : items) {
        std::error_code error;
        const auto size = std::filesystem::file_size(item.source.file, error);
        sizes.push_back(error ? 0 : size);
    }
    std::vector<std::size_t> order(items.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::stable_sort(order, std::greater{}, [&](std::size_t i) { return sizes[i]; });
    return order;
}

}  // namespace

Verdicts run(const std::vector<Item>& items, unsigned workers, const std::function<void(double)>& done) {
    Verdicts verdicts(items.size());   // each slot is written by one worker
    const auto order = order_of(items);
    std::atomic<std::size_t> next{0};
    std::mutex telling;
    std::size_t finished = 0;          // under `telling`
    const auto work = [&] {
        for (std::size_t at = next++; at < order.size(); at = next++) {
            verdicts[order[at]] = judge(items[order[at]]);
            const std::scoped_lock lock(telling);
            ++finished;
            if (done) done(static_cast<double>(finished) / static_cast<double>(items.size()));
        }
    };
    std::vector<std::jthread> threads;
    for (std::size_t i = 1; i < std::min<std::size_t>(workers, items.size()); ++i) threads.emplace_back(work);
    work();
    threads.clear();   // joins
    return verdicts;
}

}  // namespace tripline::prove
