package comebackledger.api.caller;

import comebackledger.Require;
import comebackledger.openapi.Fields;
import java.util.Set;

/**
 * Who asks.
 *
 * @param name recorded with every change
 * @param fleet the only fleet this caller sees
 * @param roles what it may do; none is possible, and then only what needs no role
 */
public record Caller(String name, String fleet, Set<Role> roles) {
    private static final int NAME_CHARACTERS_AT_MOST = 256;

    public Caller {
        Require.that(!name.isBlank() && name.length() <= NAME_CHARACTERS_AT_MOST, "a caller's name has 1 to %s characters", NAME_CHARACTERS_AT_MOST);
        Require.that(Fields.isIdentifier(fleet), "a fleet is named by an identifier");
        roles = Set.copyOf(roles);
    }

    /** The same caller in the ledger's words. */
    public comebackledger.ledger.Caller inLedger() {
        return new comebackledger.ledger.Caller(fleet, name);
    }
}
