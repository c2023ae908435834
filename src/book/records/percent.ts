/**
 * A share as people read it: 0.9 is 90%, 0.955 is 95.5%. To a tenth where it has one, or always with so many
 * digits as are asked for.
 */
export function percentText(share: number, digits?: number): string {
  const percent = share * 100;
  if (digits !== undefined) return `${percent.toFixed(digits)}%`;
  const tenths = Math.round(percent * 10) / 10;
  // What is not sure never reads as sure.
  return `${tenths === 100 && share < 1 ? Math.floor(percent * 100) / 100 : tenths}%`;
}
