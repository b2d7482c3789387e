// Lengths and times as the page writes them; the same rounding as on the server.
export const INCH = 2.54;
let unit = 'cm';
export const setUnit = (wanted) => { unit = wanted; };

const EIGHTHS = ['', '1/8', '1/4', '3/8', '1/2', '5/8', '3/4', '7/8'];
function inches(cm) {
  const parts = Math.floor(Math.abs(cm) / INCH * 8 + 0.5);
  const whole = Math.floor(parts / 8), rest = EIGHTHS[parts % 8];
  const sign = cm < 0 && parts ? '-' : '';
  return sign + (rest ? (whole ? `${whole} ${rest}` : rest) : `${whole}`);
}
export const number = (cm) => (unit === 'in' ? inches(cm) : (Math.round(cm * 10) / 10).toFixed(1).replace('-0.0', '0.0'));
export const length = (cm) => `${number(cm)} ${unit}`;
export const metres = (cm) => (unit === 'in' ? `${(cm / 91.44).toFixed(2)} yd` : `${(cm / 100).toFixed(2)} m`);
export function duration(minutes) {
  const whole = Math.max(5, 5 * Math.round(minutes / 5));
  const hours = Math.floor(whole / 60), rest = whole % 60;
  if (!hours) return `${rest} min`;
  return rest ? `${hours} h ${String(rest).padStart(2, '0')}` : `${hours} h`;
}
