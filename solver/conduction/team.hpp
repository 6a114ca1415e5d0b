#pragma once
// Threads that work on the same short loops again and again.

#include <algorithm>
#include <atomic>
#include <cstdint>
#include <exception>
#include <memory>
#include <thread>

#ifdef _OPENMP
#include <omp.h>
#endif

#include "solver/conduction/loads.hpp"

namespace sandfreeze::conduction
{

/// A few threads that share out index ranges. A loop of some microseconds is worth sharing as long as every
/// thread has a processor: between loops they spin for a while. Where the first thread keeps waiting for
/// others that do not run (a busy machine), it works alone for a while, longer each time; the others sleep.
/// Who computes what never changes the answer.
class Team
{
public:
    explicit Team(int threads)
        : threads_(threads)
    {
    }

    int threads() const { return threads_; }

    /// Runs f(begin, end) over [0, count) in as many even pieces as there are threads; returns when all are
    /// done. f must not throw and must write only what belongs to its range.
    template <class F>
    void each(std::int32_t count, const F& f)
    {
        each_piece([&](int k) { return static_cast<std::int32_t>(std::int64_t{count} * k / threads_); }, f);
    }

    /// The same in pieces that take about as long as each other.
    template <class F>
    void each(const Loads& loads, const F& f)
    {
        each_piece([&](int k) { return loads.begin(k, threads_); }, f);
    }

    /// For every thread but the first: works until dismissed.
    void serve(int me)
    {
        for (std::uint32_t seen = 0;;) {
            if (!spin_until([&] { return round_.load(std::memory_order_acquire) != seen; }))
                round_.wait(seen);
            if (round_.load(std::memory_order_acquire) == seen) continue;
            ++seen;
            if (dismissed_.load(std::memory_order_relaxed)) return;
            begun_.fetch_add(1, std::memory_order_relaxed);
            call_(work_, me);
            done_.fetch_add(1, std::memory_order_release);
        }
    }

    void dismiss()
    {
        dismissed_.store(true, std::memory_order_relaxed);
        next_round();
    }

private:
    // Spins, less than a millisecond: what the first thread does alone between two steps, and what a thread
    // that slept takes to wake up, is no delay.
    static constexpr int patience = 20000;
    static constexpr int rounds_between_looks = 64;
    static constexpr int delays_allowed = 2;       // of these rounds
    static constexpr int first_time_alone = 2000;  // rounds
    static constexpr int longest_time_alone = 1 << 20;

    template <class PieceBegin, class F>
    void each_piece(const PieceBegin& piece_begin, const F& f)
    {
        if (threads_ == 1 || alone_ > 0) {
            if (alone_ > 0) --alone_;
            f(0, piece_begin(threads_));
            return;
        }
        const auto work = [&](int me) {
            const std::int32_t begin = piece_begin(me);
            const std::int32_t end = piece_begin(me + 1);
            if (begin < end) f(begin, end);
        };
        work_ = &work;
        call_ = [](const void* hidden, int me) { (*static_cast<const decltype(work)*>(hidden))(me); };
        done_.store(0, std::memory_order_relaxed);
        begun_.store(0, std::memory_order_relaxed);
        next_round();
        work(0);
        const auto all_done = [&] { return done_.load(std::memory_order_acquire) == threads_ - 1; };
        if (!spin_until(all_done)) {
            // Others that work longer than this one are no delay: those that have not begun are.
            if (begun_.load(std::memory_order_relaxed) < threads_ - 1) ++delays_;
            while (!all_done())
                std::this_thread::yield();
        }
        judge_delays();
    }

    void next_round()
    {
        round_.fetch_add(1, std::memory_order_release);
        round_.notify_all();
    }

    /// Whether it came true before patience ran out.
    template <class Ready>
    static bool spin_until(Ready ready)
    {
        for (int spins = 0; spins < patience; ++spins) {
            if (ready()) return true;
#if defined(__x86_64__) || defined(__i386__)
            __builtin_ia32_pause();
#endif
        }
        return ready();
    }

    void judge_delays()
    {
        if (++rounds_ < rounds_between_looks && delays_ <= delays_allowed) return;
        if (delays_ > delays_allowed) {
            alone_ = time_alone_;
            time_alone_ = std::min(2 * time_alone_, longest_time_alone);
        }
        rounds_ = 0;
        delays_ = 0;
    }

    int threads_;
    const void* work_ = nullptr;
    void (*call_)(const void*, int) = nullptr;  ///< with it and the thread's number
    int rounds_ = 0;
    int delays_ = 0;
    int alone_ = 0;  ///< rounds still to be worked alone
    int time_alone_ = first_time_alone;
    alignas(64) std::atomic<std::uint32_t> round_{0};
    alignas(64) std::atomic<int> done_{0};
    alignas(64) std::atomic<int> begun_{0};
    std::atomic<bool> dismissed_{false};
};

/// Runs body(team) with so many threads (one without OpenMP). What body throws is thrown again here.
template <class Body>
void with_team(int threads, Body body)
{
#ifdef _OPENMP
    if (threads > 1) {
        std::exception_ptr failure;
        std::unique_ptr<Team> shared;
#pragma omp parallel num_threads(threads) shared(failure, shared)
        {
            if (omp_get_thread_num() == 0) shared = std::make_unique<Team>(omp_get_num_threads());
#pragma omp barrier
            if (omp_get_thread_num() != 0) {
                shared->serve(omp_get_thread_num());
            } else {
                try {
                    body(*shared);
                } catch (...) {
                    failure = std::current_exception();
                }
                shared->dismiss();
            }
        }
        if (failure) std::rethrow_exception(failure);
        return;
    }
#endif
    (void)threads;
    Team team(1);
    body(team);
}

}  // namespace sandfreeze::conduction
