package comebackledger.api;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import comebackledger.api.transfer.LineImport;
import comebackledger.fleet.Offenders;
import comebackledger.ledger.Caller;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.PlannerDesk;
import comebackledger.openapi.LedgerCodec;
import comebackledger.openapi.PolicyMapping;
import comebackledger.storage.JdbcStore;
import java.io.ByteArrayInputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** One who keeps rows between questions answers as one who reads them all, whoever recorded what came between: two ledgers over one store. */
class KeptRowsTest {
    private static final Caller OTHER = new Caller("default", "other");
    private static final int UNITS = 60;
    private static final int VISITS = 12;
    private static final List<Duration> BACK = List.of(Duration.ZERO, Duration.ofDays(100), Duration.ofDays(500), Duration.ofDays(2_500));

    @TempDir
    Path folder;
    private JdbcStore store;
    private Ledger keeping;
    private Ledger recording;

    @BeforeEach
    void open() {
        store = JdbcStore.embedded(folder);
        keeping = ledger();
        recording = ledger();
    }

    @AfterEach
    void close() {
        store.close();
    }

    private Ledger ledger() {
        return new Ledger(store, new LedgerCodec(), InstantSource.system(), (_, _, _, _) -> {});
    }

    private void record(List<String> lines) throws Exception {
        LineImport taken = new LineImport(recording, OTHER, true);
        taken.takeLines(new ByteArrayInputStream(String.join("\n", lines).getBytes(StandardCharsets.UTF_8)), _ -> {});
        assertEquals(0, taken.tally().rejected(), () -> taken.tally().problems().toString());
    }

    private static Offenders offenders(Ledger of, Optional<String> system, Instant at) {
        return of.planner().offenders("default", new PlannerDesk.Question(Optional.empty(), system, Optional.of(at)), UNITS).content();
    }

    private void assertSameAsRead() {
        for (Duration back : BACK) {
            for (Optional<String> system : List.of(Optional.<String>empty(), Optional.of("charge-air"))) {
                Instant at = ScaleFleet.UNTIL.minus(back);
                assertEquals(offenders(ledger(), system, at), offenders(keeping, system, at));
            }
        }
    }

    @Test
    void answer_afterVisitsUnitsAndRevisionsOfAnother_isThatOfOneWhoReadsAll() throws Exception {
        List<String> later = new ArrayList<>();
        List<String> first = new ArrayList<>();
        for (int unit = 1; unit < UNITS; unit++) {
            List<String> lines = ScaleFleet.lines(unit, VISITS);
            first.addAll(lines.subList(0, VISITS - 2));
            later.addAll(lines.subList(VISITS - 2, lines.size()));
        }
        record(first);
        Offenders before = offenders(keeping, Optional.empty(), ScaleFleet.UNTIL);
        assertSameAsRead();

        record(later.subList(0, 40));
        assertNotEquals(before.ranked(), offenders(keeping, Optional.empty(), ScaleFleet.UNTIL).ranked(), "the visits count");
        assertSameAsRead();

        record(ScaleFleet.lines(0, VISITS)); // a new unit, the first in order
        record(List.of(ScaleFleet.lines(1, VISITS).getFirst().replace("linehaul", "moved").replace("regional", "moved")));
        assertSameAsRead();

        record(later); // more than is followed by the feed
        record(ScaleFleet.lines(2, VISITS).stream().map(line -> line.replace("\"note\":\"invented\"", "\"revision\":2,\"void\":true")).toList());
        assertSameAsRead();
    }

    @Test
    void answer_afterAnotherPolicy_isThatOfOneWhoReadsAll() throws Exception {
        for (int unit = 0; unit < UNITS; unit++) {
            record(ScaleFleet.lines(unit, VISITS));
        }
        Offenders before = offenders(keeping, Optional.empty(), ScaleFleet.UNTIL);

        recording.putPolicy(OTHER,
                PolicyMapping.toCore("{\"repeatWindow\":{\"days\":700,\"km\":1000000,\"engineHours\":50000}}".getBytes(StandardCharsets.UTF_8)),
                OptionalInt.of(0));

        assertNotEquals(before.ranked(), offenders(keeping, Optional.empty(), ScaleFleet.UNTIL).ranked(), "a longer window makes comebacks");
        assertSameAsRead();
    }
}
