import { describe, expect, it } from 'vitest';
import { pointsOf, sectionSources, sectionText, withPoint } from '../src/stages/shape/section_points';

describe('a worn section, point by point', () => {
  it('is two numbers a line, each as it was read', () => {
    expect(pointsOf('26.1 -0.03\n\n 26.5 mm  .02in \n27;0', 'mm')).toEqual([['26.1 mm', '-0.03 mm'], ['26.5 mm', '0.02 in'], ['27 mm', '0 mm']]);
    expect(pointsOf('26.1 -0.03\n26.5', 'mm')).toBe('Line 2 of the section is not two numbers, radius and height: “26.5”.');
    expect(pointsOf('26.1 0 1', 'mm')).toContain('Line 1');
  });
  it('comes back as it went', () => {
    const lines = withPoint('26.1 mm -0.03 mm', '26.5 mm 0.02 in');
    expect(sectionText(pointsOf(lines, 'in'))).toBe(lines);
    expect(sectionText(undefined)).toBe('');
  });
  it('says from where those points came that stand there as a gauge gave them', () => {
    const sources = "26.1 mm -0.03 mm\tfrom dial: '26.1'\n26.5 mm 0 mm\tfrom dial: '26.5'";
    expect(sectionSources('26.1 mm -0.03 mm\n26.5 mm 0 mm', sources)).toEqual(["from dial: '26.1'", "from dial: '26.5'"]);
    expect(sectionSources('26.1 mm -0.04 mm\n26.5 mm 0 mm', sources)).toEqual(["from dial: '26.5'"]); // typed over
    expect(sectionSources('', sources)).toEqual([]);
  });
});
