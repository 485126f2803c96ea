package comebackledger.ledger;

import comebackledger.judge.VisitFacts;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import java.util.stream.IntStream;

/** Everything derived, made again from evidence alone. */
final class Rebuild {
    private static final int UNITS_A_PAGE = 200;

    private final Store store;
    private final Ledger ledger;
    private final Derivation derivation;

    Rebuild(Store store, Ledger ledger, Derivation derivation) {
        this.store = store;
        this.ledger = ledger;
        this.derivation = derivation;
    }

    void rebuild(Ledger.Progress progress) {
        eachUnit(progress, (fleet, unit) -> store.write(fleet, tx -> {
            tx.lock(new TreeSet<>(List.of(unit)));
            tx.unit(unit).ifPresent(version -> derivation.remake(tx, ledger.basis(tx, version)));
            return unit;
        }));
        store.fleets().forEach(fleet -> ledger.baselines().learn(fleet));
    }

    List<String> verify(Ledger.Progress progress) {
        List<String> differences = new ArrayList<>();
        eachUnit(progress, (fleet, unit) -> differences.addAll(store.read(fleet, tx -> compare(tx, unit))));
        return differences;
    }

    private List<String> compare(Transaction tx, String unit) {
        Optional<Stored.UnitVersion> version = tx.unit(unit);
        if (version.isEmpty()) {
            return List.of();
        }
        Derivation.Basis basis = ledger.basis(tx, version.get());
        List<Stored.VisitRevision> visits = tx.visits(unit);
        Optional<Stored.Fold> kept = tx.fold(unit);
        if (kept.isEmpty() && visits.isEmpty() || kept.isPresent() && !basis.made(kept.get())) {
            return List.of(); // nothing kept, or kept under older versions: it is not used as it stands
        }
        if (kept.isEmpty()) {
            return List.of(unit + ": the fold is missing; run rebuild.");
        }
        return differences(tx, basis, visits, kept.get());
    }

    /** Compared as bytes: a damaged row differs, whether or not it can be read. */
    private List<String> differences(Transaction tx, Derivation.Basis basis, List<Stored.VisitRevision> visits, Stored.Fold kept) {
        String unit = basis.unit().id();
        List<String> differences = new ArrayList<>();
        List<VisitFacts> facts = derivation.judged(basis, visits);
        Stored.Fold again = derivation.fold(basis, facts, Derivation.lastReceivedAt(visits));
        if (!same(facts.stream().map(derivation::row).toList(), tx.facts(unit))) {
            differences.add(unit + ": the kept facts differ from the evidence; run rebuild.");
        }
        if (!Arrays.equals(again.state(), kept.state())) {
            differences.add(unit + ": the kept fold differs from the visits; run rebuild.");
        }
        if (!Arrays.equals(again.summary(), kept.summary())) {
            differences.add(unit + ": the kept compact row differs from the visits; run rebuild.");
        }
        if (!again.lastReceivedAt().equals(kept.lastReceivedAt())) {
            differences.add(unit + ": the kept instant of the last receipt differs from the visits; run rebuild.");
        }
        return differences;
    }

    private static boolean same(List<Stored.Facts> again, List<Stored.Facts> kept) {
        return again.size() == kept.size() && IntStream.range(0, again.size()).allMatch(i -> again.get(i).visit().equals(kept.get(i).visit())
                && again.get(i).arrivedAt().equals(kept.get(i).arrivedAt()) && Arrays.equals(again.get(i).facts(), kept.get(i).facts()));
    }

    private interface UnitWork {
        void on(String fleet, String unit);
    }

    private void eachUnit(Ledger.Progress progress, UnitWork work) {
        for (String fleet : store.fleets()) {
            int done = 0;
            Optional<String> after = Optional.empty();
            List<String> page;
            do {
                Optional<String> from = after;
                page = store.read(fleet, tx -> tx.units(from, UNITS_A_PAGE).stream().map(Stored.UnitVersion::unit).toList());
                for (String unit : page) {
                    work.on(fleet, unit);
                }
                done += page.size();
                progress.done(fleet, done);
                after = page.isEmpty() ? after : Optional.of(page.getLast());
            } while (page.size() == UNITS_A_PAGE);
        }
    }
}
