/**
 * What was the service told, and which ledger does that open?
 *
 * <p>Doors: {@link comebackledger.api.setting.Settings}, every key with its default; {@link comebackledger.api.setting.OpenLedger}.
 */
@NullMarked
package comebackledger.api.setting;

import org.jspecify.annotations.NullMarked;
