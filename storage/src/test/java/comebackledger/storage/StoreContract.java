package comebackledger.storage;

import static comebackledger.storage.Rows.NOON;
import static comebackledger.storage.Rows.bytes;
import static comebackledger.storage.Rows.facts;
import static comebackledger.storage.Rows.fold;
import static comebackledger.storage.Rows.noon;
import static comebackledger.storage.Rows.text;
import static comebackledger.storage.Rows.unit;
import static comebackledger.storage.Rows.units;
import static comebackledger.storage.Rows.visit;
import static comebackledger.storage.Rows.voided;
import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

import comebackledger.ledger.Stored;
import comebackledger.ledger.Transaction;
import org.junit.jupiter.api.Test;

/** What a store must keep, on every engine. */
abstract class StoreContract extends TransactionContract {
    static final Instant FIRST = Instant.parse("1678-01-01T00:00:00.000000001Z");
    static final Instant LAST = Instant.parse("2261-12-31T23:59:59.999999999Z");

    private static List<String> names(List<Stored.VisitRevision> visits) {
        return visits.stream().map(visit -> visit.visit() + "/" + visit.revision()).toList();
    }

    // Units.

    @Test
    void unit_givesTheNewestVersionAsItWasAppended() {
        write(tx -> tx.append(unit("T-104", 1, NOON)));
        write(tx -> tx.append(unit("T-104", 2, noon(1))));

        assertEquals(Optional.of(unit("T-104", 2, noon(1))), read(tx -> tx.unit("T-104")));
        assertEquals(List.of(unit("T-104", 1, NOON), unit("T-104", 2, noon(1))), read(tx -> tx.unitVersions("T-104")));
        assertEquals(Optional.empty(), read(tx -> tx.unit("t-104")), "identifiers are case-sensitive: RULES 6");
    }

    @Test
    void unitAsKnown_countsWhatWasRecordedByThen() {
        write(tx -> tx.append(unit("T-104", 1, NOON)));
        write(tx -> tx.append(unit("T-104", 2, noon(2))));

        assertEquals(Optional.empty(), read(tx -> tx.unitAsKnown("T-104", NOON.minusNanos(1))));
        assertEquals(Optional.of(1), read(tx -> tx.unitAsKnown("T-104", NOON).map(Stored.UnitVersion::version)));
        assertEquals(Optional.of(1), read(tx -> tx.unitAsKnown("T-104", noon(2).minusNanos(1)).map(Stored.UnitVersion::version)));
        assertEquals(Optional.of(2), read(tx -> tx.unitAsKnown("T-104", noon(2)).map(Stored.UnitVersion::version)));
    }

    @Test
    void units_pageByCodePointWithNewestVersions() {
        List<String> byCodePoint = List.of("A-1", "A.1", "A1", "A_1", "B", "a-1", "a1", "b");
        write(tx -> List.of("b", "A_1", "a1", "B", "A1", "a-1", "A.1", "A-1").forEach(name -> tx.append(unit(name, 1, NOON))));
        write(tx -> tx.append(unit("B", 2, noon(1))));

        List<Stored.UnitVersion> walked = new ArrayList<>();
        Optional<String> after = Optional.empty();
        List<Stored.UnitVersion> page;
        do {
            Optional<String> from = after;
            page = read(tx -> tx.units(from, 3));
            walked.addAll(page);
            after = page.isEmpty() ? after : Optional.of(page.getLast().unit());
        } while (page.size() == 3);

        assertEquals(byCodePoint, walked.stream().map(Stored.UnitVersion::unit).toList());
        assertEquals(2, walked.get(4).version());
    }

    // Visits.

    @Test
    void visit_givesTheCurrentRevisionAndEveryEarlierOne() {
        write(tx -> tx.append(visit("T-104", "WO-1", 1, NOON, noon(1))));
        write(tx -> tx.append(voided("T-104", "WO-1", 2, noon(3), noon(4))));

        assertEquals(Optional.of(voided("T-104", "WO-1", 2, noon(3), noon(4))), read(tx -> tx.visit("T-104", "WO-1")));
        assertEquals(Optional.of(visit("T-104", "WO-1", 1, NOON, noon(1))), read(tx -> tx.visit("T-104", "WO-1", 1)));
        assertEquals(Optional.empty(), read(tx -> tx.visit("T-104", "WO-1", 3)));
        assertEquals(Optional.empty(), read(tx -> tx.visit("T-105", "WO-1")));
    }

    @Test
    void visits_standByArrivalThenByIdentifierWhateverTheOrderOfReceipt() {
        write(tx -> {
            tx.append(visit("T-104", "late", 1, noon(9), NOON));
            tx.append(visit("T-104", "b", 1, noon(5), NOON));
            tx.append(visit("T-104", "B", 1, noon(5), NOON));
            tx.append(visit("T-104", "a", 1, noon(5), NOON));
        });
        write(tx -> tx.append(visit("T-104", "first", 1, NOON, noon(20))));
        write(tx -> tx.append(visit("T-104", "late", 2, noon(1), noon(21))));

        assertEquals(List.of("first/1", "late/2", "B/1", "a/1", "b/1"), read(tx -> names(tx.visits("T-104"))));
        assertEquals(List.of("first/1", "B/1", "a/1", "b/1", "late/1", "late/2"), read(tx -> names(tx.visitRevisions("T-104"))),
                "by first revisions");
    }

    /** A column that rounds to microseconds would make these one instant, and the order would be that of the identifiers. */
    @Test
    void visits_oneNanosecondApart_standInThatOrder() {
        Instant early = Instant.parse("2026-03-01T08:00:00.000000001Z");
        write(tx -> {
            tx.append(visit("T-104", "a", 1, early.plusNanos(1), NOON));
            tx.append(visit("T-104", "b", 1, early, NOON));
            tx.append(visit("T-104", "y", 1, LAST, LAST));
            tx.append(visit("T-104", "z", 1, FIRST, FIRST));
            tx.append(visit("T-104", "x", 1, Instant.parse("1969-12-31T23:59:59.999999999Z"), NOON));
        });

        List<Stored.VisitRevision> visits = read(tx -> tx.visits("T-104"));

        assertEquals(List.of("z/1", "x/1", "b/1", "a/1", "y/1"), names(visits));
        assertEquals(early, visits.get(2).arrivedAt());
        assertEquals(List.of(FIRST, LAST), List.of(visits.getFirst().arrivedAt(), visits.getLast().receivedAt()));
        assertEquals(4, count(tx -> tx.visitsAsKnown("T-104", LAST.minusNanos(1)).size()));
        assertEquals(5, count(tx -> tx.visitsAsKnown("T-104", Instant.MAX).size()), "asked beyond what is kept");
        assertEquals(0, count(tx -> tx.visitsAsKnown("T-104", Instant.MIN).size()));
    }

    @Test
    void visits_pageAfterAnyVisitMeetEachOnce() {
        write(tx -> List.of(7, 2, 5, 0, 3, 1, 6, 4).forEach(i -> tx.append(visit("T-104", "WO-" + i, 1, noon(i / 2), NOON))));
        write(tx -> tx.append(voided("T-104", "WO-3", 2, noon(1), noon(1))));

        List<String> walked = new ArrayList<>();
        Optional<Stored.VisitKey> after = Optional.empty();
        List<Stored.VisitRevision> page;
        do {
            Optional<Stored.VisitKey> from = after;
            page = read(tx -> tx.visits("T-104", from, 3));
            walked.addAll(names(page));
            after = page.isEmpty() ? after : Optional.of(page.getLast().key());
        } while (page.size() == 3);

        assertEquals(List.of("WO-0/1", "WO-1/1", "WO-2/1", "WO-3/2", "WO-4/1", "WO-5/1", "WO-6/1", "WO-7/1"), walked);
    }

    @Test
    void visitsAsKnown_countsRevisionsReceivedByThenInTheirOwnOrder() {
        write(tx -> {
            tx.append(visit("T-104", "WO-1", 1, noon(1), noon(10)));
            tx.append(visit("T-104", "WO-2", 1, noon(2), noon(20)));
            tx.append(visit("T-104", "WO-1", 2, noon(3), noon(30)));
            tx.append(voided("T-104", "WO-2", 2, noon(2), noon(40)));
        });

        assertEquals(List.of(), read(tx -> names(tx.visitsAsKnown("T-104", noon(10).minusNanos(1)))));
        assertEquals(List.of("WO-1/1"), read(tx -> names(tx.visitsAsKnown("T-104", noon(10)))));
        assertEquals(List.of("WO-1/1", "WO-2/1"), read(tx -> names(tx.visitsAsKnown("T-104", noon(20)))));
        assertEquals(List.of("WO-2/1", "WO-1/2"), read(tx -> names(tx.visitsAsKnown("T-104", noon(39)))));
        assertEquals(List.of("WO-2/2", "WO-1/2"), read(tx -> names(tx.visitsAsKnown("T-104", noon(40)))));
    }

    @Test
    void otherUnitWith_namesAnotherUnitWhoseVisitIsNotWithdrawn() {
        write(tx -> {
            tx.append(visit("T-1", "WO-1", 1, NOON, NOON));
            tx.append(visit("T-2", "WO-1", 1, NOON, NOON));
            tx.append(visit("T-3", "WO-2", 1, NOON, NOON));
        });

        assertEquals(Optional.of("T-2"), read(tx -> tx.otherUnitWith("WO-1", "T-1")));
        assertEquals(Optional.of("T-1"), read(tx -> tx.otherUnitWith("WO-1", "T-2")));
        assertEquals(Optional.empty(), read(tx -> tx.otherUnitWith("WO-2", "T-3")));
        write(tx -> tx.append(voided("T-2", "WO-1", 2, NOON, noon(1))));
        assertEquals(Optional.empty(), read(tx -> tx.otherUnitWith("WO-1", "T-1")));
    }

    @Test
    void documents_comeBackCharForChar() {
        String wide = "{\"complaint\":\"Ωhm, żółć, 車, 🚚, \\u0000, \\\"quoted\\\" 'single' ; -- drop\"}\n";
        String large = "{\"notes\":\"" + "é".repeat((1 << 20) / 2) + "\"}";
        write(tx -> {
            tx.append(new Stored.VisitRevision("T-104", "WO-1", 1, NOON, false, wide, NOON, "Łukasz 🚚"));
            tx.append(new Stored.VisitRevision("T-104", "WO-2", 1, NOON, false, large, NOON, "ada"));
            tx.append(new Stored.UnitVersion("T-104", 1, large, NOON, "Łukasz"));
        });

        assertEquals(List.of(wide, large), read(tx -> tx.visits("T-104").stream().map(Stored.VisitRevision::evidence).toList()));
        assertEquals("Łukasz 🚚", read(tx -> tx.visit("T-104", "WO-1").orElseThrow().by()));
        assertEquals(large, read(tx -> tx.unit("T-104").orElseThrow().document()));
    }

    /** Twelve documents of 1 MiB pass the mark at which waiting rows leave early. */
    @Test
    void append_whenMuchWaits_isSeenByEveryReadOfTheSameTransaction() {
        String large = "x".repeat(1 << 20);
        write(tx -> {
            for (int i = 10; i < 22; i++) {
                tx.append(new Stored.VisitRevision("T-104", "WO-" + i, 1, noon(i), false, large, NOON, "ada"));
                assertEquals(1, tx.visit("T-104", "WO-" + i).orElseThrow().revision());
                assertEquals(1, tx.visit("T-104", "WO-10").orElseThrow().revision());
            }
            assertEquals(12, tx.visits("T-104").size());
            tx.append(visit("T-104", "WO-10", 2, NOON, NOON));
            assertEquals(2, tx.visit("T-104", "WO-10").orElseThrow().revision());
            assertEquals(12, tx.visits("T-104").size());
            assertEquals(13, tx.visitRevisions("T-104").size());
        });

        assertEquals(12, count(tx -> tx.visits("T-104").size()));
    }

    /** An import asks for each of its visits; the third and later of one unit are answered from the identifiers read once. */
    @Test
    void visit_whenManyOfALockedUnitAreAsked_findsThoseThatAreThere() {
        write(tx -> List.of("WO-1", "WO-3", "WO-5").forEach(name -> tx.append(visit("T-104", name, 1, NOON, NOON))));

        write(tx -> {
            tx.lock(units("T-104"));
            for (int i = 1; i <= 6; i++) {
                assertEquals(i % 2 == 1, tx.visit("T-104", "WO-" + i).isPresent(), "WO-" + i);
            }
            tx.append(visit("T-104", "WO-6", 1, NOON, NOON));
            assertEquals(4, tx.visits("T-104").size());
            tx.append(visit("T-104", "WO-5", 2, NOON, NOON));
            tx.visits("T-104");
            assertEquals(1, tx.visit("T-104", "WO-6").orElseThrow().revision());
            assertEquals(2, tx.visit("T-104", "WO-5").orElseThrow().revision());
            assertEquals(Optional.empty(), tx.visit("T-105", "WO-5"));
        });
    }

    // Derived.

    @Test
    void facts_areReplacedDroppedAndOrdered() {
        write(tx -> tx.keepFacts("T-104", List.of(facts("WO-2", noon(2), "two"), facts("WO-1", noon(1), "one"), facts("WO-3", noon(3), "three"))));
        write(tx -> {
            tx.keepFacts("T-104", List.of(facts("WO-1", noon(9), "one again")));
            tx.dropFacts("T-104", "WO-2");
            tx.dropFacts("T-104", "WO-3");
            tx.keepFacts("T-104", List.of(facts("WO-3", noon(3), "kept after all")));
        });

        List<Stored.Facts> kept = read(tx -> tx.facts("T-104"));

        assertEquals(List.of("kept after all", "one again"), kept.stream().map(row -> text(row.facts())).toList());
        assertEquals(List.of(noon(3), noon(9)), kept.stream().map(Stored.Facts::arrivedAt).toList());
        assertEquals(List.of(), read(tx -> tx.facts("T-105")));
    }

    @Test
    void facts_ofAVisitAppendedInTheSameTransaction_areReplacedToo() {
        write(tx -> {
            tx.append(visit("T-104", "WO-1", 1, NOON, NOON));
            tx.keepFacts("T-104", List.of(facts("WO-1", NOON, "one")));
            assertEquals(1, tx.facts("T-104").size());
            tx.keepFacts("T-104", List.of(facts("WO-1", NOON, "two")));
            assertEquals("two", text(tx.facts("T-104").getFirst().facts()));
            tx.dropFacts("T-104", "WO-1");
            assertEquals(List.of(), tx.facts("T-104"));
            tx.keepFacts("T-104", List.of(facts("WO-1", NOON, "three")));
        });

        assertEquals(List.of("three"), read(tx -> tx.facts("T-104").stream().map(row -> text(row.facts())).toList()));
    }

    @Test
    void fold_isReplacedAndSeenAtOnceByItsOwnTransaction() {
        write(tx -> {
            assertEquals(Optional.empty(), tx.fold("T-104"));
            tx.keepFold("T-104", fold("first"));
            tx.keepFold("T-104", new Stored.Fold(3, 0, Optional.empty(), bytes("second"), new byte[0]));
            assertEquals("second", text(tx.fold("T-104").orElseThrow().state()));
        });

        Stored.Fold kept = read(tx -> tx.fold("T-104").orElseThrow());

        assertEquals(List.of(3, 0, Optional.empty()), List.of(kept.unitVersion(), kept.policyVersion(), kept.lastReceivedAt()));
        assertArrayEquals(bytes("second"), kept.state());
        assertArrayEquals(new byte[0], kept.summary());
        write(tx -> tx.keepFold("T-104", fold("third")));
        assertEquals(Optional.of(NOON), read(tx -> tx.fold("T-104").orElseThrow().lastReceivedAt()));
    }

    /** 2 500 rows: two full pages and a part. */
    @Test
    void eachSummary_meetsEveryUnitOnceByIdentifier() {
        write(tx -> {
            for (int i = 2_499; i >= 0; i--) {
                tx.keepFold(String.format("T-%04d", i), fold("state " + i));
            }
        });

        List<String> met = new ArrayList<>();
        store().read(fleet, tx -> {
            tx.eachSummary(row -> met.add(row.unit() + " " + row.unitVersion() + " " + row.policyVersion() + " " + text(row.summary())));
            return met.size();
        });

        assertEquals(2_500, met.size());
        assertEquals("T-0000 1 2 summary of state 0", met.getFirst());
        assertEquals(met.stream().sorted().toList(), met);
        assertEquals(2_500, met.stream().distinct().count());
    }

    @Test
    void derivedAlike_movesTheRowsOfOneVersionAndFleet() {
        store().write(fleet + "-other", tx -> {
            tx.keepFold("T-104", new Stored.Fold(1, 2, Optional.of(NOON), bytes("theirs"), bytes("theirs")));
            return true;
        });
        write(tx -> {
            tx.keepFold("T-104", new Stored.Fold(1, 2, Optional.of(NOON), bytes("ours"), bytes("ours")));
            tx.keepFold("T-105", new Stored.Fold(1, 1, Optional.of(NOON), bytes("older"), bytes("older")));
        });

        write(tx -> tx.derivedAlike(2, 3));

        assertEquals(Optional.of(3), read(tx -> tx.fold("T-104").map(Stored.Fold::policyVersion)));
        assertEquals(Optional.of(1), read(tx -> tx.fold("T-105").map(Stored.Fold::policyVersion)));
        List<Integer> summaries = new ArrayList<>();
        store().read(fleet, tx -> {
            tx.eachSummary(row -> summaries.add(row.policyVersion()));
            return true;
        });
        assertEquals(List.of(3, 1), summaries);
        assertEquals(Optional.of(2), store().read(fleet + "-other", tx -> tx.fold("T-104").map(Stored.Fold::policyVersion)));
    }

    // Policy and baseline.

    @Test
    void policy_isVersioned() {
        Stored.PolicyVersion first = new Stored.PolicyVersion(1, "{}", NOON, "ada");
        Stored.PolicyVersion second = new Stored.PolicyVersion(2, "{\"repeatWindow\":{}}", noon(1), "bo");
        assertEquals(Optional.empty(), read(Transaction::policy));
        write(tx -> tx.append(first));
        write(tx -> tx.append(second));

        assertEquals(Optional.of(second), read(Transaction::policy));
        assertEquals(Optional.of(first), read(tx -> tx.policyAsKnown(noon(1).minusNanos(1))));
        assertEquals(Optional.empty(), read(tx -> tx.policyAsKnown(NOON.minusNanos(1))));
        assertEquals(List.of(first, second), read(Transaction::policyVersions));
    }

    @Test
    void baseline_isVersioned() {
        write(tx -> tx.append(new Stored.BaselineVersion(1, NOON, bytes("one"))));
        write(tx -> tx.append(new Stored.BaselineVersion(2, noon(1), bytes("two"))));

        assertEquals("two", read(tx -> text(tx.baseline().orElseThrow().content())));
        assertEquals("one", read(tx -> text(tx.baselineAsKnown(NOON).orElseThrow().content())));
        assertEquals(Optional.empty(), read(tx -> tx.baselineAsKnown(NOON.minusNanos(1)).map(Stored.BaselineVersion::version)));
        assertEquals(new Stored.Mark(0, 2), read(Transaction::mark));
        assertEquals(List.of(1, 2), read(tx -> tx.baselineVersions().stream().map(Stored.BaselineVersion::version).toList()));
    }

    // The change feed.

    @Test
    void changes_areNumberedWithoutGapsInTheOrderTheyWereMade() {
        write(tx -> {
            tx.change(Stored.ChangeKind.UNIT_RECORDED, Optional.of("T-104"), Optional.empty(), NOON, "ada");
            tx.change(Stored.ChangeKind.VISIT_RECORDED, Optional.of("T-104"), Optional.of("WO-1"), noon(1), "bo");
        });
        write(tx -> tx.change(Stored.ChangeKind.POLICY_CHANGED, Optional.empty(), Optional.empty(), noon(2), "ada"));

        assertEquals(List.of(
                new Stored.Change(1, Stored.ChangeKind.UNIT_RECORDED, Optional.of("T-104"), Optional.empty(), NOON, "ada"),
                new Stored.Change(2, Stored.ChangeKind.VISIT_RECORDED, Optional.of("T-104"), Optional.of("WO-1"), noon(1), "bo"),
                new Stored.Change(3, Stored.ChangeKind.POLICY_CHANGED, Optional.empty(), Optional.empty(), noon(2), "ada")),
                read(tx -> tx.changes(0, 100)));
        assertEquals(List.of(2L), read(tx -> tx.changes(1, 1).stream().map(Stored.Change::position).toList()));
        assertEquals(List.of(), read(tx -> tx.changes(3, 100)));
        assertEquals(new Stored.Mark(3, 0), read(Transaction::mark));
    }

    // Fleets and transactions.

    @Test
    void fleets_areThoseThatHoldAnythingAndNeverSeeEachOther() {
        String other = fleet + "-other";
        write(tx -> {
            tx.append(unit("T-104", 1, NOON));
            tx.append(visit("T-104", "WO-1", 1, NOON, NOON));
            tx.change(Stored.ChangeKind.VISIT_RECORDED, Optional.of("T-104"), Optional.of("WO-1"), NOON, "ada");
            tx.keepFold("T-104", fold("ours"));
            tx.append(new Stored.PolicyVersion(1, "{}", NOON, "ada"));
        });

        int seenByOther = store().read(other, tx -> tx.units(Optional.empty(), 10).size() + tx.visits("T-104").size() + tx.changes(0, 10).size()
                + (tx.policy().isPresent() ? 1 : 0) + (tx.fold("T-104").isPresent() ? 1 : 0) + (tx.otherUnitWith("WO-1", "X").isPresent() ? 1 : 0));

        assertEquals(0, seenByOther);
        assertTrue(store().fleets().contains(fleet));
        assertEquals(List.of(), store().fleets().stream().filter(other::equals).toList());
        assertEquals(store().fleets().stream().sorted().toList(), store().fleets());
        store().write(other, tx -> {
            tx.append(unit("T-104", 1, NOON));
            return true;
        });
        assertTrue(store().fleets().contains(other), "without a change of the feed, too");
    }
}
