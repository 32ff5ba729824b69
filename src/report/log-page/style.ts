/** What the page of the log has beside the style of every page. */

/** The style sheet. */
export const LOG_PAGE_STYLE = `
.grade-mark{width:.72em;height:.72em;margin-right:.35em;vertical-align:-.02em}
.answer{border:0;margin:0;padding-top:.2rem}
.log-answer{font-size:1.5rem;font-weight:600;line-height:1.25;display:block;margin:1.3rem 0 .4rem}
.run-list td,.run-list th{vertical-align:middle}
.run-list .thumb{width:5.5rem;height:auto;display:block;background:var(--well)}
.run-list .thumb-cell{padding-right:.6rem;width:6.1rem}
.run-list a{color:inherit;display:inline-block;min-height:24px;text-underline-offset:.15em}
.run-list .verdict-cell{white-space:nowrap}
.run-list th button{font:inherit;color:inherit;background:none;border:0;padding:.3rem 0;min-height:24px;cursor:pointer;text-align:inherit;text-decoration:underline dotted;text-underline-offset:.2em}
.run-list th[aria-sort=ascending] button::after{content:" \\2191"}.run-list th[aria-sort=descending] button::after{content:" \\2193"}
.run-tools{display:flex;gap:.8rem 1.2rem;align-items:center;flex-wrap:wrap;margin:0 0 .8rem}
.run-tools label{font-size:.875rem;color:var(--muted)}
.run-tools input{font:inherit;color:var(--ink);background:var(--sheet);border:1px solid var(--muted);padding:.45rem .6rem;min-height:44px;min-width:min(20rem,70vw);margin-left:.6rem}
.run-tools output{font-size:.875rem;color:var(--muted)}
@media (max-width:38rem){.run-tools input{margin:.3rem 0 0;display:block}.run-list .thumb{width:3.6rem}.run-list .thumb-cell{width:4rem;padding-right:.4rem}}
@media print{.run-tools{display:none}.run-list .thumb{width:20mm}}
`;
