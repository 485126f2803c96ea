/**
 * Who calls, which fleet does it see, and what may it do?
 *
 * <p>Door: {@link comebackledger.api.caller.Callers}, which a host fills from its own security; our own server fills it from tokens
 * ({@link comebackledger.api.caller.TokenCallers}), or where no issuer is configured with everybody on this machine
 * ({@link comebackledger.api.caller.LocalCallers}).
 */
@NullMarked
package comebackledger.api.caller;

import org.jspecify.annotations.NullMarked;
