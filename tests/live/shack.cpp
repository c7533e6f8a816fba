#include "tests/live/shack.h"

#include "daemon/audio/priority.h"

#include <poll.h>

#include <csignal>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <thread>

namespace tripline::live {

namespace {

bool real_time_is_granted() {
    bool granted = false;
    std::thread([&granted] { granted = audio::ask_priority(0, 10).real_time; }).join();
    return granted;
}

}  // namespace

Shack::Shack(std::string sound, int period)
    : sound_(std::move(sound)), period_(period), server_name_("tripline" + std::to_string(::getpid())) {
    ::setenv("JACK_DEFAULT_SERVER", server_name_.c_str(), 1);
    write_config();
    start_server();
    start_card();
}

void Shack::write_config() const {
    std::ofstream file(config_file);
    file << "[audio]\ndevice = \"JACK Audio Connection Kit: shack\"\n";
    for (const char* role : {"ptt", "mute", "antenna"}) {
        file << "[line." << role << "]\nkind = \"file\"\ndevice = \"" << (folder.path / "lines").string() << "\"\n";
    }
    file << "[line.alive]\nkind = \"file\"\ndevice = \"" << (folder.path / "wave").string() << "\"\n";
}

Shack::~Shack() {
    daemon.reset();
    card.reset();
    if (!server) return;
    server->signal(SIGCONT);
    server->signal(SIGTERM);
    server->wait(2s);
}

// Without real-time priority a busy machine makes the server itself late.
void Shack::start_server() {
    server.reset();
    const std::string priority = real_time_is_granted() ? "-R" : "-r";
    server = std::make_unique<Child>(std::vector<std::string>{
        "/bin/sh", "-c", "exec \"$0\" \"$@\" >>" + (folder.path / "server.log").string() + " 2>&1", "/usr/bin/jackd",
        "-n", server_name_, priority, "-m", "-d", "dummy", "-r", "48000", "-p", std::to_string(period_)});
}

void Shack::start_card() {
    for (int tries = 0; tries < 50; ++tries) {
        card = std::make_unique<Child>(std::vector<std::string>{PRETEND_CARD, "shack", sound_});
        if (!card->hear("ready", 500ms).empty()) return;
        ::poll(nullptr, 0, 100);
    }
    throw std::runtime_error("the pretended card finds no server");
}

void Shack::start_daemon(const std::vector<std::string>& more, const std::string& log) {
    if (daemon) {
        daemon->signal(SIGKILL);
        daemon->wait();
    }
    const std::string file = log.empty() ? (folder.path / "daemon.log").string() : log;
    const int before = log.empty() ? count_logged("station ready") : 0;
    std::vector<std::string> arguments{"/bin/sh", "-c", "exec \"$0\" \"$@\" 2>>" + file,
                                       TRIPLINED, "--config", config_file};
    arguments.insert(arguments.end(), more.begin(), more.end());
    daemon = std::make_unique<Child>(arguments);
    if (log.empty() && !logged("station ready", before + 1)) throw std::runtime_error("not ready:\n" + this->log());
}

void Shack::tell_card(const std::string& command) {
    card->say(command);
    if (card->hear("ok").empty()) throw std::runtime_error("the card does not answer");
}

bool Shack::missed_a_callback(Instant from, Instant to) {
    card->say("report");
    std::istringstream words(card->hear("report "));
    std::string name;
    long long number = 0;   // first the frames, then the time of each
    words >> name >> number;
    while (words >> number) {
        const Instant missed{std::chrono::nanoseconds(number)};
        if (from <= missed && missed <= to) return true;
    }
    return false;
}

void Shack::get_on_air() {
    const Instant asked = faults::now();
    tell_card("speech");
    if (!lines.active("ptt") && !lines.wait("ptt", true, asked, 20s)) {
        throw std::runtime_error("not on the air:\n" + log());
    }
}

std::string Shack::log() const {
    std::ostringstream text;
    text << std::ifstream(folder.path / "daemon.log").rdbuf();
    return text.str();
}

int Shack::count_logged(const std::string& text) const {
    const std::string whole = log();
    int count = 0;
    for (auto at = whole.find(text); at != std::string::npos; at = whole.find(text, at + 1)) ++count;
    return count;
}

bool Shack::logged(const std::string& text, int times, Duration timeout) const {
    const Instant end = faults::now() + timeout;
    while (count_logged(text) < times) {
        if (faults::now() > end) return false;
        ::poll(nullptr, 0, 20);
    }
    return true;
}

pid_t Shack::guard() const {
    const std::string tasks = "/proc/" + std::to_string(daemon->pid()) + "/task";
    for (const auto& task : std::filesystem::directory_iterator(tasks)) {
        std::ifstream children(task.path() / "children");
        pid_t child = -1;
        if (children >> child) return child;
    }
    return -1;
}

}  // namespace tripline::live
