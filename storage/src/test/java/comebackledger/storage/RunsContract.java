package comebackledger.storage;

import static comebackledger.storage.Rows.NOON;
import static comebackledger.storage.Rows.facts;
import static comebackledger.storage.Rows.noon;
import static comebackledger.storage.Rows.text;
import static comebackledger.storage.Rows.visit;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.LongStream;

import comebackledger.ledger.Stored;
import org.junit.jupiter.api.Test;

/** What a store must keep of rows that share one of the engine's, on every engine. */
abstract class RunsContract extends StoreContract {
    /** Rows of 10 kB do not share one with all the others; one of them judged again leaves the rest as it was. */
    @Test
    void facts_ofManyVisitsKeptTogether_areReplacedAndDroppedOneByOne() {
        String large = "x".repeat(10_000);
        write(tx -> {
            for (int i = 10; i < 30; i++) {
                tx.append(visit("T-104", "WO-" + i, 1, noon(i), NOON));
                tx.keepFacts("T-104", List.of(facts("WO-" + i, noon(i), large + i)));
            }
        });
        write(tx -> tx.keepFacts("T-104", List.of(facts("WO-10", noon(10), "again"), facts("WO-25", noon(1), "earlier"))));
        write(tx -> {
            tx.dropFacts("T-104", "WO-29");
            tx.append(visit("T-104", "WO-9", 1, noon(9), NOON));
            tx.keepFacts("T-104", List.of(facts("WO-9", noon(9), "late")));
        });

        List<Stored.Facts> kept = read(tx -> tx.facts("T-104"));

        assertEquals(20, kept.size());
        assertEquals(List.of("earlier", "late", "again", large + 11), kept.subList(0, 4).stream().map(row -> text(row.facts())).toList());
        assertEquals(large + 28, text(kept.getLast().facts()));
    }

    /** 250 changes of one caller and one of another share rows; a page may begin and end inside one. */
    @Test
    void changes_ofALargeTransaction_areReadFromAnyPositionInAnyPage() {
        write(tx -> {
            for (int i = 1; i <= 250; i++) {
                tx.change(Stored.ChangeKind.VISIT_RECORDED, Optional.of("T-104"), Optional.of("WO-" + i), noon(i), "ada");
            }
            tx.change(Stored.ChangeKind.STANDING_CHANGED, Optional.of("T-104"), Optional.empty(), noon(251), "bo");
        });
        write(tx -> tx.change(Stored.ChangeKind.VISIT_REVISED, Optional.of("T-104"), Optional.of("WO-1"), noon(252), "ada"));

        for (int limit : List.of(1, 7, 100, 101, 252, 1_000)) {
            List<Stored.Change> walked = new ArrayList<>();
            List<Stored.Change> page;
            do {
                long after = walked.isEmpty() ? 0 : walked.getLast().position();
                page = read(tx -> tx.changes(after, limit));
                assertTrue(page.size() <= limit, "a page of " + limit);
                walked.addAll(page);
            } while (page.size() == limit);
            assertEquals(LongStream.rangeClosed(1, 252).boxed().toList(), walked.stream().map(Stored.Change::position).toList());
            assertEquals(Optional.of("WO-137"), walked.get(136).visit());
            assertEquals(noon(137), walked.get(136).at());
            assertEquals(List.of("ada", "bo", "ada"), List.of(walked.get(249).by(), walked.get(250).by(), walked.get(251).by()));
        }
        assertEquals(List.of(), read(tx -> tx.changes(Long.MAX_VALUE - 1, 1_000)));
    }

    @Test
    void instants_beyondTheColumn_areRefusedAndNotMovedIntoIt() {
        IllegalArgumentException refused = assertThrows(IllegalArgumentException.class,
                () -> write(tx -> tx.append(visit("T-104", "a", 1, LAST.plusSeconds(86_400 * 365), NOON))));

        assertTrue(refused.getMessage().contains("between 1678 and 2261"), refused.getMessage());
        assertEquals(List.of(), read(tx -> tx.visits("T-104")));
    }
}
