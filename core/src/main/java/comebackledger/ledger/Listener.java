package comebackledger.ledger;

import java.util.Optional;

/**
 * Told after a unit, a visit or a policy that was put is kept. It runs on the writer's thread, so it hands long work on. Imports, and the changes of standing
 * that follow from a visit, are told by {@link Ledger#changes} alone, which also tells a host that was away.
 */
@FunctionalInterface
public interface Listener {
    void changed(String fleet, Stored.ChangeKind kind, Optional<String> unit, Optional<String> visit);
}
