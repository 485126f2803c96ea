package comebackledger.ledger;

import comebackledger.fleet.FleetRows;
import comebackledger.trail.Fold;
import comebackledger.trail.UnitSummary;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import java.util.function.Function;

/**
 * The compact rows of a fleet, for whoever reads them all. A row is stamped with the policy that it was folded under; one that a change of policy or of the
 * tables left behind, or that cannot be read, is folded again and kept before the reading counts.
 */
final class CompactRows {
    private final Ledger ledger;
    private final Derivation derivation;

    CompactRows(Ledger ledger, Derivation derivation) {
        this.ledger = ledger;
        this.derivation = derivation;
    }

    /** What is made of all rows of one view of the store. */
    interface Reading<T> {
        /** @param stale what stands in for a row that is left behind */
        T of(Transaction tx, RecordedPolicy policy, Function<Stored.Summary, Optional<UnitSummary>> stale);
    }

    <T> T read(String fleet, Reading<T> reading) {
        List<String> stale = new ArrayList<>();
        T made = ledger.store().read(fleet, tx -> {
            stale.clear();
            return reading.of(tx, ledger.policy(tx), row -> {
                stale.add(row.unit());
                return Optional.empty();
            });
        });
        if (stale.isEmpty()) {
            return made;
        }
        stale.forEach(unit -> refold(fleet, unit));
        return ledger.store().read(fleet, tx -> reading.of(tx, ledger.policy(tx), row -> refolded(tx, row.unit())));
    }

    /** All rows as they are stored. */
    FleetRows stored(Transaction tx, RecordedPolicy policy, Function<Stored.Summary, Optional<UnitSummary>> stale) {
        return use -> tx.eachSummary(row -> sound(ledger.codec(), row, policy.version()).or(() -> stale.apply(row)).ifPresent(use));
    }

    /** Empty where it was made under another policy, or can not be read. */
    static Optional<UnitSummary> sound(Codec codec, Stored.Summary row, int policyVersion) {
        return row.policyVersion() == policyVersion ? sound(codec, row.summary()) : Optional.empty();
    }

    /** Empty where it can not be read. */
    static Optional<UnitSummary> sound(Codec codec, byte[] summary) {
        try {
            return Optional.of(codec.decode(summary, UnitSummary.class));
        } catch (UncheckedIOException e) {
            return Optional.empty();
        }
    }

    private void refold(String fleet, String unit) {
        ledger.store().write(fleet, tx -> {
            tx.lock(new TreeSet<>(List.of(unit)));
            return tx.unit(unit).map(version -> derivation.rebuild(tx, ledger.basis(tx, version)));
        });
    }

    /** For a row that another writer left behind once more. */
    private Optional<UnitSummary> refolded(Transaction tx, String unit) {
        return tx.unit(unit).map(version -> {
            Derivation.Basis basis = ledger.basis(tx, version);
            return UnitSummary.of(basis.unit(), Fold.of(derivation.judged(basis, tx.visits(unit)), basis.policy()), basis.policy());
        });
    }
}
