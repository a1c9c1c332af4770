(function(){
	var weight={e:1e6,w:1e4,n:100,a:1};
	function key(cell){
		var v=cell.getAttribute("data-v");
		if(v!==null)return Number(v);
		var n=parseFloat(cell.textContent);
		if(weight[cell.className])return weight[cell.className]*(isNaN(n)?1:n);
		return cell.className==="z"?0:cell.textContent.trim().toLowerCase();
	}
	document.querySelectorAll("table.sortable").forEach(function(table){
		var heads=table.tHead.rows[0].cells,body=table.tBodies[0];
		Array.prototype.forEach.call(heads,function(head,col){
			var button=document.createElement("button");
			button.type="button";
			while(head.firstChild)button.appendChild(head.firstChild);
			head.appendChild(button);
			button.addEventListener("click",function(){
				var down=head.getAttribute("aria-sort")==="ascending";
				Array.prototype.forEach.call(heads,function(h){h.removeAttribute("aria-sort");});
				head.setAttribute("aria-sort",down?"descending":"ascending");
				Array.prototype.map.call(body.rows,function(row,i){return{row:row,i:i,k:key(row.cells[col])};}).sort(function(a,b){
					var d=a.k===b.k?0:typeof a.k===typeof b.k?(a.k<b.k?-1:1):typeof a.k==="number"?-1:1;
					return(down?-d:d)||a.i-b.i;
				}).forEach(function(x){body.appendChild(x.row);});
			});
		});
	});
})();
