package comebackledger.ledger;

import java.util.List;
import java.util.Optional;
import java.util.TreeSet;

/**
 * Makes the derived rows of one fleet again that another policy left behind, unit by unit beside the questions, which are answered from evidence until
 * it comes to their unit. What a stopped process leaves undone, {@code rebuild} does.
 */
final class Refolding {
    private static final System.Logger LOG = System.getLogger(Refolding.class.getName());
    private static final int UNITS_A_PAGE = 200;

    private final Ledger ledger;
    private final Derivation derivation;
    private final String fleet;

    Refolding(Ledger ledger, Derivation derivation, String fleet) {
        this.ledger = ledger;
        this.derivation = derivation;
        this.fleet = fleet;
    }

    /** On a thread of its own, that no shutdown waits for and that leaves the processors to the questions. */
    void begin() {
        Thread.ofPlatform().daemon().name("refold-" + fleet).priority(Thread.MIN_PRIORITY).start(() -> {
            try {
                run();
            } catch (RuntimeException e) {
                LOG.log(System.Logger.Level.WARNING, "The derived rows of an older policy are left as they are; run rebuild.", e);
            }
        });
    }

    void run() {
        Optional<String> after = Optional.empty();
        List<String> page;
        do {
            Optional<String> from = after;
            page = ledger.store().read(fleet, tx -> tx.units(from, UNITS_A_PAGE).stream().map(Stored.UnitVersion::unit).toList());
            page.forEach(this::refold);
            after = page.isEmpty() ? after : Optional.of(page.getLast());
        } while (page.size() == UNITS_A_PAGE);
    }

    private void refold(String unit) {
        if (ledger.store().read(fleet, tx -> leftBehind(tx, unit).isPresent())) {
            ledger.store().write(fleet, tx -> {
                tx.lock(new TreeSet<>(List.of(unit)));
                leftBehind(tx, unit).ifPresent(basis -> derivation.rebuild(tx, basis));
                return unit;
            });
        }
    }

    /** Under what its row should be, where it is under something else. */
    private Optional<Derivation.Basis> leftBehind(Transaction tx, String unit) {
        Optional<Stored.Fold> kept = tx.fold(unit);
        return tx.unit(unit).map(version -> ledger.basis(tx, version)).filter(basis -> kept.isPresent() && !basis.made(kept.get()));
    }
}
