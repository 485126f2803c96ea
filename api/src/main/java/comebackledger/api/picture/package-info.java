/**
 * Pictures of answers, as SVG: dark on white, told by shape and words as much as by line, without script, style sheet or outside reference.
 *
 * <p>Doors: {@link comebackledger.api.picture.ReadingPicture}, {@link comebackledger.api.picture.Svg} for any other picture.
 *
 * <p><b>Decisions.</b> Presentation attributes and no style, so that a picture shows under a policy that allows nothing. Written by hand rather than by a
 * drawing library, because those need the desktop module.
 */
@NullMarked
package comebackledger.api.picture;

import org.jspecify.annotations.NullMarked;
