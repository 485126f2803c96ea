package comebackledger.api;

import comebackledger.fleet.Holds;
import comebackledger.fleet.Measure;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.PlannerDesk;
import comebackledger.openapi.LedgerCodec;
import comebackledger.storage.JdbcStore;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Supplier;

/** The times of the answers over one fleet, as {@link FleetScaleBenchmark} says. */
final class FleetScaleAnswers {
    private static final String FLEET = "default";

    private final Path data;
    private final int units;

    FleetScaleAnswers(Path data, int units) {
        this.data = data;
        this.units = units;
    }

    /** What is left after a collection. */
    static double usedMib() {
        System.gc();
        return (Runtime.getRuntime().totalMemory() - Runtime.getRuntime().freeMemory()) / 1048576.0;
    }

    void run() {
        try (JdbcStore store = JdbcStore.embedded(data)) {
            Ledger ledger = new Ledger(store, new LedgerCodec(), InstantSource.system(), (_, _, _, _) -> {});
            timed("baseline learned", () -> ledger.baselines().learn(FLEET));
            PlannerDesk.Question all = new PlannerDesk.Question(Optional.empty(), Optional.empty(), Optional.of(ScaleFleet.UNTIL));
            for (int round = 0; round < 2; round++) {
                timed("offenders", () -> ledger.planner().offenders(FLEET, all, 100));
                timed("patterns", () -> ledger.planner().patterns(FLEET, all));
                timed("repairs", () -> ledger.planner().holds(FLEET, all, new Holds.Filter(Optional.empty(), Optional.empty()), Measure.KM));
                timed("recurrence", () -> ledger.planner().recurrence(FLEET, all, Measure.KM));
            }
        }
    }

    private <T> T timed(String what, Supplier<T> work) {
        long from = System.nanoTime();
        T result = work.get();
        System.out.printf(Locale.ROOT, "%s of %d units: %.2f s, %.0f MiB used%n", what, units, (System.nanoTime() - from) / 1e9, usedMib());
        return result;
    }
}
