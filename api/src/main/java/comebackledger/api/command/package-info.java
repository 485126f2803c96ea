/**
 * What can be done from a command line?
 *
 * <p>Door: {@link comebackledger.api.command.Main}. Each command opens what {@link comebackledger.api.setting.Settings} name, does its one thing, and shows how
 * far long work is.
 */
@NullMarked
package comebackledger.api.command;

import org.jspecify.annotations.NullMarked;
