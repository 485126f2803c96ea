package comebackledger.storage;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.IntFunction;

/** Starts threads at one barrier and gives what each answered. */
final class Race {
    private Race() {}

    static <T> List<T> of(int threads, IntFunction<Callable<T>> work) throws InterruptedException, ExecutionException {
        CyclicBarrier barrier = new CyclicBarrier(threads);
        try (ExecutorService executor = Executors.newFixedThreadPool(threads)) {
            List<Future<T>> running = new ArrayList<>();
            for (int i = 0; i < threads; i++) {
                Callable<T> mine = work.apply(i);
                running.add(executor.submit(() -> {
                    barrier.await();
                    return mine.call();
                }));
            }
            List<T> answers = new ArrayList<>();
            for (Future<T> one : running) {
                answers.add(one.get());
            }
            return answers;
        }
    }
}
