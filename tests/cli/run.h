// Runs the operator's tool inside the test.
#pragma once

#include "daemon/cli/program.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace tripline::cli {

struct Outcome {
    int code = -1;
    std::string out;
    std::string err;
};

inline Outcome run(const std::vector<std::string>& words) {
    std::vector<const char*> arguments{"tripline"};
    for (const auto& word : words) arguments.push_back(word.c_str());
    Outcome outcome;
    testing::internal::CaptureStdout();
    testing::internal::CaptureStderr();
    outcome.code = run_program(static_cast<int>(arguments.size()), arguments.data());
    outcome.out = testing::internal::GetCapturedStdout();
    outcome.err = testing::internal::GetCapturedStderr();
    return outcome;
}

}  // namespace tripline::cli
