// Work that several threads share.
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace tripline::tune {

/// Does each of `count` pieces of work once, on so many threads, and throws what one of them threw.
template <typename Work> void share_out(std::size_t count, unsigned workers, Work work) {
    std::atomic<std::size_t> next{0};
    std::mutex mutex;
    std::exception_ptr failure;
    const auto run = [&] {
        try {
            for (std::size_t i = next++; i < count; i = next++) work(i);
        } catch (...) {
            const std::scoped_lock lock(mutex);
            failure = std::current_exception();
        }
    };
    {
        std::vector<std::jthread> threads;
        for (std::size_t i = 1; i < std::min<std::size_t>(workers, count); ++i) threads.emplace_back(run);
        run();
    }
    if (failure) std::rethrow_exception(failure);
}

}  // namespace tripline::tune
