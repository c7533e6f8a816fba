// The daemon: holds the parts together, says what happens, takes signals.
#pragma once

#include "daemon/control/server.h"
#include "daemon/guard/kept_plan.h"
#include "daemon/logbook/identify.h"
#include "daemon/service/audio_keeper.h"
#include "daemon/service/back_off.h"
#include "daemon/service/event_reporter.h"
#include "daemon/service/forced_key.h"
#include "daemon/service/growing.h"
#include "daemon/service/kept_safe.h"
#include "daemon/service/keyboard.h"
#include "daemon/service/keying_thread.h"
#include "daemon/service/log.h"
#include "daemon/service/operator_mode.h"
#include "daemon/service/options.h"
#include "daemon/service/phase.h"
#include "daemon/service/signals.h"
#include "daemon/service/sleep_watch.h"
#include "daemon/service/standstill.h"
#include "daemon/service/start_afresh.h"
#include "daemon/service/state_lock.h"
#include "daemon/service/supervisor.h"
#include "daemon/service/texts.h"
#include "daemon/web/server.h"

#include <optional>
#include <string>
#include <string_view>

namespace tripline::service {

class Service {
public:
    /// Throws what KeyingThread throws. `signals` must have been made before any thread.
    Service(Options options, const Signals& signals);

    /// Until told to stop, or the recording is over. The exit status of the program: 0, or 2
    /// for a recording that could not be played to its end.
    int run();

    /// Writes what the black box keeps; `why` is a word of letters and dashes. What became of
    /// it is logged. Empty, or why there will be none. The service's thread.
    std::string capture(const std::string& why);

private:
    void start_keying();
    /// False when the guard had to be killed.
    bool end_keying();
    void keep_wiring();
    void start_black_box();
    void happen(Happening happening);
    /// The phase, and what it waits for.
    std::string state_text() const;
    void order_fault(bool standing);
    void hold_lines();

    std::string control_path() const;
    /// Throws control::AnotherStation. Else empty, or why there is none.
    std::string claim_socket();
    /// Of what the settings ask for, the station goes without this: told in the log, in the status and to systemd.
    void go_without(Message what, const std::string& why);
    void open_control(const std::string& no_socket);
    void open_page();
    void tend_desk(Duration now);
    void lay_out();
    void open_book();
    void remind(Duration now);
    control::Outcome obey_mark(logbook::Mark mark, std::uint64_t over);
    void answer_now(const control::Desk::Asked& asked);
    control::Outcome obey(const control::Desk::Asked& asked);
    void obey_mode(const control::Desk::Asked& asked);
    void answer_modes(Duration now);
    void obey_key(const control::Desk::Asked& asked, Duration now);
    void answer_key(Duration now);
    void answer_settled_keys(Duration now);
    control::Outcome settle_key(ForcedKey::Fate fate);
    void obey_set(const control::Desk::Asked& asked, Duration now);
    /// Empty: taken up. Else why not.
    std::string take_setting(const control::Desk::Asked& asked, Duration now);
    void answer_set(Duration now);

    void tend_mode(const Signals::Caught& caught, Duration now);
    void suspend();
    void tend_sleep(Duration now);
    void tell_of_sleep();
    void command(station::Mode mode, const char* by);
    void keep_safe(bool safe);
    /// Empty, or why not.
    std::string force_key(const char* by, Duration now);

    void tend_audio(Duration now);
    void open_audio(Duration now);
    void take_opened(Duration now);
    void take_refused(Duration now);
    void take_ended(Duration now);
    void end_with(const std::string& failure);

    void tend_phase(Duration now);
    void enter_trouble(std::string_view trouble, Duration now);
    void recover(Duration now);
    bool audio_at_fault() const;

    void tend_reload(bool asked, Duration now);
    void ask_reload(Duration now);
    void take_up(config::Settings settings, Duration now);
    void apply_reload();
    bool exchange_engine();
    void renew_orders();

    void report(Duration now);
    void drain_events(Hertz rate);
    void report_guard();
    void report_priority();
    void report_captures();
    void feed_watchdog(Duration now);
    int release_and_end(Duration now);
    void close_audio(Duration now);
    void finish_captures();

    // All for the service's thread.
    Options options_;
    const Signals& signals_;
    unsigned opened_ = take_kept_opened();  // how often the sound was; before events_, whose file it numbers
    StateLock state_lock_{guard::state_folder()};
    Log log_;
    Supervisor supervisor_;
    control::Desk desk_;
    std::unique_ptr<control::Listener> claimed_;  // until control_ has it
    std::optional<control::Server> control_;
    audio::Pulse pulse_;
    audio::Doors doors_;
    std::optional<KeyingThread> keying_;
    std::optional<black_box::BlackBox> black_box_;
    std::optional<study::Study> study_;  // of the sound in black_box_
    std::optional<web::Server> page_;
    AudioKeeper audio_;
    std::optional<logbook::Book> book_;  // before events_, which writes into it
    EventReporter events_;
    logbook::Identify identify_;
    KeptSafe kept_safe_;
    OperatorMode mode_;
    std::optional<Keyboard> keyboard_;
    ForcedKey forced_key_{pulse_};
    Standstill standstill_;
    SleepWatch sleep_;
    std::optional<station::Mode> key_from_;  // the mode before a forced key whose fate is not known yet
    std::vector<std::shared_ptr<std::promise<control::Outcome>>> key_answers_;  // waiting for that
    struct SettledKey {
        std::shared_ptr<std::promise<control::Outcome>> answer;
        control::Outcome outcome;
        Duration until{0};  // then it is told, whatever the engine's mode is
    };
    std::vector<SettledKey> settled_keys_;  // a refused one waits for the engine to be in the mode that it was left in
    struct ModeAnswer {
        std::shared_ptr<std::promise<control::Outcome>> answer;
        Commanded commanded;
        Duration until{0};  // then what is known is said
    };
    std::vector<ModeAnswer> mode_answers_;  // waiting for the engine, and for the guard to have opened the key
    struct SetAnswer {
        std::shared_ptr<std::promise<control::Outcome>> answer;
        std::string done;   // what is said once it is in force
        Duration until{0};  // then what is known is said
    };
    std::vector<SetAnswer> set_answers_;  // waiting for the new settings to be in force

    std::vector<std::string> missing_;  // what it goes without, and why
    Phase phase_ = Phase::starting;
    std::string said_absence_;
    BackOff retry_{std::chrono::milliseconds{500}, std::chrono::seconds{30}};
    Duration next_open_{0};    // when closed
    Duration give_up_{0};      // when open and not running
    Duration running_since_{0};
    Duration stalled_since_{0};
    bool fault_ordered_ = false;
    bool was_open_ = false;
    bool hung_ = false;
    int exit_status_ = 0;
    int priority_told_of_ = 0;
    std::optional<config::Settings> pending_;  // new ones, waiting for the engine to come to rest
    Duration reload_due_{0};
    std::vector<std::string> set_;  // "key=value", from the desk, since the file was read
    std::shared_ptr<const config::Settings> settings_shown_;
    control::Captures captures_;
    dsp::echo::Trust echo_;  // as last shown by the engine
    bool sleep_told_unanswered_ = false;
    bool held_ = false;      // by a voice or its hang time, as last shown
    Duration on_air_{0};     // of this over, as last shown
    GuardNews told_guard_;
    lines::Wiring wired_;  // what the present guard holds
    std::uint32_t closings_before_ = 0;  // of the key, by the guards of earlier keying threads
    Growing flagged_, events_lost_, samples_lost_, late_, dropped_, tight_;
    bool recording_failure_told_ = false;
    bool events_failure_told_ = false;
    bool book_failure_told_ = false;
};

}  // namespace tripline::service
