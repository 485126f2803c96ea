package comebackledger.storage;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Arrays;
import java.util.Optional;
import java.util.TreeSet;

import comebackledger.ledger.Stored;
import comebackledger.ledger.Transaction;

/** Rows for the tests, short to write. */
final class Rows {
    static final Instant NOON = Instant.parse("2026-03-01T12:00:00Z");

    private Rows() {}

    static Instant noon(long hoursLater) {
        return NOON.plusSeconds(3600 * hoursLater);
    }

    static Stored.UnitVersion unit(String unit, int version, Instant recordedAt) {
        return new Stored.UnitVersion(unit, version, "{\"version\":" + version + "}", recordedAt, "ada");
    }

    static Stored.VisitRevision visit(String unit, String visit, int revision, Instant arrivedAt, Instant receivedAt) {
        return new Stored.VisitRevision(unit, visit, revision, arrivedAt, false, "{\"revision\":" + revision + "}", receivedAt, "ada");
    }

    static Stored.VisitRevision voided(String unit, String visit, int revision, Instant arrivedAt, Instant receivedAt) {
        return new Stored.VisitRevision(unit, visit, revision, arrivedAt, true, "{\"void\":true}", receivedAt, "bo");
    }

    static Stored.Facts facts(String visit, Instant arrivedAt, String facts) {
        return new Stored.Facts(visit, arrivedAt, bytes(facts));
    }

    static Stored.Fold fold(String state) {
        return new Stored.Fold(1, 2, Optional.of(NOON), bytes(state), bytes("summary of " + state));
    }

    static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    static String text(byte[] bytes) {
        return new String(bytes, StandardCharsets.UTF_8);
    }

    static TreeSet<String> units(String... units) {
        return new TreeSet<>(Arrays.asList(units));
    }

    /** A changed row of one unit, as a writer of the ledger does it. */
    static int appendNext(Transaction tx, String unit, String visit) {
        tx.lock(units(unit));
        int next = tx.visit(unit, visit).map(Stored.VisitRevision::revision).orElse(0) + 1;
        tx.append(visit(unit, visit, next, NOON, NOON));
        tx.change(next == 1 ? Stored.ChangeKind.VISIT_RECORDED : Stored.ChangeKind.VISIT_REVISED, Optional.of(unit), Optional.of(visit), NOON, "ada");
        return next;
    }
}
